"""A club or a teacher's own practice, and who acts for it."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.queries import OrganisationQuerySet


class Organisation(models.Model):
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    name = models.CharField(_("name"), max_length=120, unique=True)

    objects = OrganisationQuerySet.as_manager()

    def __str__(self) -> str:
        return self.name


class Membership(models.Model):
    class Role(models.TextChoices):
        COORDINATOR = "coordinator", _("coordinator")
        INSTRUCTOR = "instructor", _("instructor")

    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="memberships"
    )
    organisation = models.ForeignKey(
        Organisation, on_delete=models.CASCADE, related_name="memberships"
    )
    role = models.CharField(_("role"), max_length=16, choices=Role.choices)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["user", "organisation"], name="one_membership_each"),
        ]

    def __str__(self) -> str:
        return f"{self.user_id} as {self.role} of {self.organisation_id}"
