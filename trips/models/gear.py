"""Gear: what a person brings, what the club lends, and who has what on which night.

What a piece of each kind says of itself is `planning/gear/`; `spec` holds it, checked there.
"""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from trips.models.edited import Edited, unique_name
from trips.models.enrolment import Enrolment
from trips.models.organisation import Organisation
from trips.models.trip_night import TripNight
from trips.queries import ArchivableQuerySet, OfNightQuerySet


class OwnGear(models.Model):
    """A piece that a person brings to this trip."""

    enrolment = models.ForeignKey(Enrolment, on_delete=models.CASCADE, related_name="gear")
    kind = models.CharField(max_length=16)
    name = models.CharField(_("what you call it"), max_length=80, blank=True)
    spec = models.JSONField(default=dict)

    class Meta:
        ordering = ["kind", "pk"]

    def __str__(self) -> str:
        return self.name or self.kind


class LoanItem(Edited):
    """A piece that the club lends."""

    organisation = models.ForeignKey(
        Organisation, on_delete=models.CASCADE, related_name="loan_kit"
    )
    kind = models.CharField(max_length=16)
    spec = models.JSONField(default=dict)
    note = models.CharField(_("note"), max_length=200, blank=True)

    objects = ArchivableQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "name"]
        constraints = [unique_name("organisation", "loan_item_name_unique_in_organisation")]


class Loan(models.Model):
    """One piece, one evening, one person. Neither granted nor refused: asked for.

    `evening` is the night's, kept here so that two trips of one evening cannot have one piece.
    """

    item = models.ForeignKey(LoanItem, on_delete=models.PROTECT, related_name="loans")
    night = models.ForeignKey(TripNight, on_delete=models.CASCADE, related_name="loans")
    evening = models.DateField()
    enrolment = models.ForeignKey(Enrolment, on_delete=models.CASCADE, related_name="loans")
    is_granted = models.BooleanField(default=True)
    refused_at = models.DateTimeField(null=True)

    objects = OfNightQuerySet.as_manager()

    class Meta:
        ordering = ["evening", "item", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["item", "evening"],
                condition=Q(is_granted=True),
                name="item_lent_once",
            ),
            models.UniqueConstraint(
                fields=["item", "night", "enrolment"], name="item_asked_once_by_each"
            ),
            models.CheckConstraint(
                condition=Q(is_granted=False) | Q(refused_at=None),
                name="loan_granted_or_refused",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item_id} to {self.enrolment_id} on {self.evening}"
