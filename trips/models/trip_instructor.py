"""Who leads a trip. Each has a head-count link of their own."""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.linked import Linked
from trips.models.trip import Trip
from trips.models.user import User
from trips.queries import OfTripQuerySet


class TripInstructor(Linked):
    LINK_PURPOSE = "head-count"

    trip = models.ForeignKey(Trip, on_delete=models.CASCADE, related_name="instructors")
    user = models.ForeignKey(User, on_delete=models.PROTECT, related_name="led_trips")
    phone = models.CharField(_("phone"), max_length=40, blank=True)

    objects = OfTripQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["trip", "user"], name="instructor_once_a_trip"),
        ]

    def __str__(self) -> str:
        return self.user.called
