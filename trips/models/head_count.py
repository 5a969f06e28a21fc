"""Ticks of a head count, as phones sent them: each once, whatever the signal did."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from trips.models.enrolment import Enrolment
from trips.models.trip_instructor import TripInstructor
from trips.models.trip_night import TripNight
from trips.queries import OfNightQuerySet


class Tick(models.Model):
    """Of a participant or of a leader. `at` is the phone's hour, `received_at` ours.

    `client_uid` keeps a repeated post harmless.
    """

    class Kind(models.TextChoices):
        HERE = "here", _("here")
        LEFT = "left", _("left")
        NOT_HERE = "not_here", _("not here")

    client_uid = models.UUIDField(unique=True)
    night = models.ForeignKey(TripNight, on_delete=models.CASCADE, related_name="ticks")
    enrolment = models.ForeignKey(
        Enrolment, on_delete=models.CASCADE, null=True, related_name="ticks"
    )
    leader = models.ForeignKey(
        TripInstructor, on_delete=models.CASCADE, null=True, related_name="counted"
    )
    # Who ticked.
    instructor = models.ForeignKey(TripInstructor, on_delete=models.CASCADE, related_name="ticks")
    kind = models.CharField(max_length=8, choices=Kind.choices)
    at = models.DateTimeField()
    received_at = models.DateTimeField()

    objects = OfNightQuerySet.as_manager()

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(enrolment=None) ^ Q(leader=None), name="tick_of_one_person"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.enrolment_id or self.leader_id} {self.kind} {self.at:%H:%M}"
