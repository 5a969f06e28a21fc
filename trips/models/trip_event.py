"""The history of a trip: who did what, by ids. It tells nothing of a person who is deleted."""

from __future__ import annotations

from django.db import models

from trips.models.trip import Trip
from trips.models.user import User
from trips.queries import OfTripQuerySet


class TripEvent(models.Model):
    """`by` None with `enrolment_uid`: the person by their link; both None: the server by itself."""

    trip = models.ForeignKey(Trip, on_delete=models.CASCADE, related_name="events")
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.SET_NULL, null=True, related_name="+")
    enrolment_uid = models.UUIDField(null=True)
    what = models.CharField(max_length=32)
    detail = models.JSONField(default=dict)

    objects = OfTripQuerySet.as_manager()

    class Meta:
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return f"{self.what} {self.at:%Y-%m-%d %H:%M}"
