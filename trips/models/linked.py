"""What has a private link. The row holds the link's hash and never the link."""

from __future__ import annotations

import uuid

from django.db import models


class Linked(models.Model):
    """`uid` and `link_generation` make the link (`services/links.py`); revoking counts up."""

    # What the link is for: one made for another purpose opens nothing here.
    LINK_PURPOSE = ""

    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    link_generation = models.PositiveIntegerField(default=1, editable=False)
    link_hash = models.CharField(max_length=64, unique=True, editable=False)
    # None: while the row stands.
    link_expires_at = models.DateTimeField(null=True, editable=False)

    class Meta:
        abstract = True
