"""What people edit and put away: told apart everywhere, saved once, archived and never deleted."""

from __future__ import annotations

import uuid

from django.db import models
from django.utils.translation import gettext_lazy as _


class Versioned(models.Model):
    """`version` rises with each save (`services/editing.py`); `uid` is what goes outside."""

    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    version = models.PositiveIntegerField(default=1, editable=False)

    name = models.CharField(_("name"), max_length=120)

    class Meta:
        abstract = True

    def __str__(self) -> str:
        return self.name


class Edited(Versioned):
    """What is put away when it is no longer wanted."""

    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        abstract = True


def unique_name(within: str, constraint: str) -> models.UniqueConstraint:
    """Keep names apart among what is not archived."""
    return models.UniqueConstraint(
        fields=[within, "name"], condition=models.Q(archived_at=None), name=constraint
    )
