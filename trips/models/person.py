"""A person who comes along: no account, reached by mail. Deleted after the last trip."""

from __future__ import annotations

import uuid

from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.organisation import Organisation
from trips.queries import MemberQuerySet


class Person(models.Model):
    class Experience(models.TextChoices):
        NONE = "none", _("never photographed at night")
        SOME = "some", _("a few nights")
        MUCH = "much", _("many nights")

    class Units(models.TextChoices):
        METRIC = "metric", _("°C, km, m")
        IMPERIAL = "imperial", _("°F, mi, ft")

    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    organisation = models.ForeignKey(Organisation, on_delete=models.CASCADE, related_name="people")
    name = models.CharField(_("name"), max_length=120)
    mail = models.EmailField(_("mail"))
    phone = models.CharField(_("phone"), max_length=40, blank=True)
    emergency_name = models.CharField(_("whom to call in an emergency"), max_length=120, blank=True)
    emergency_phone = models.CharField(_("their phone"), max_length=40, blank=True)
    experience = models.CharField(
        _("experience"), max_length=4, choices=Experience.choices, default=Experience.NONE
    )
    units = models.CharField(_("units"), max_length=8, choices=Units.choices, default=Units.METRIC)

    objects = MemberQuerySet.as_manager()

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            # One mail may serve a family: the name is part of who it is.
            models.UniqueConstraint(
                fields=["organisation", "mail", "name"], name="person_once_in_organisation"
            ),
        ]

    def __str__(self) -> str:
        return self.name
