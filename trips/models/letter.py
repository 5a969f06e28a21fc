"""Mail that is to go out, each once. The row says what about; the text is made when it is sent,

so that no link and no address is kept in it.
"""

from __future__ import annotations

import uuid

from django.db import models

from trips.models.enrolment import Enrolment
from trips.models.trip import Trip
from trips.models.trip_instructor import TripInstructor
from trips.models.trip_night import TripNight
from trips.queries import LetterQuerySet


class Letter(models.Model):
    """To a participant, an instructor, or (neither) the trip's contact at home."""

    class State(models.TextChoices):
        QUEUED = "queued"
        SENDING = "sending"
        SENT = "sent"
        FAILED = "failed"
        DROPPED = "dropped"  # no longer true when its turn came

    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    # What makes it the same letter: asked for twice, it goes once.
    key = models.CharField(max_length=120, unique=True)
    kind = models.CharField(max_length=32)
    trip = models.ForeignKey(Trip, on_delete=models.CASCADE, related_name="letters")
    night = models.ForeignKey(
        TripNight, on_delete=models.CASCADE, null=True, related_name="letters"
    )
    enrolment = models.ForeignKey(
        Enrolment, on_delete=models.CASCADE, null=True, related_name="letters"
    )
    instructor = models.ForeignKey(
        TripInstructor, on_delete=models.CASCADE, null=True, related_name="letters"
    )

    state = models.CharField(max_length=8, choices=State.choices, default=State.QUEUED)
    due_at = models.DateTimeField()
    attempts = models.PositiveSmallIntegerField(default=0)
    lease_owner = models.UUIDField(null=True)
    lease_expires_at = models.DateTimeField(null=True)
    sent_at = models.DateTimeField(null=True)
    error = models.CharField(max_length=300, blank=True)

    objects = LetterQuerySet.as_manager()

    class Meta:
        ordering = ["due_at", "pk"]
        indexes = [models.Index(fields=["state", "due_at"], name="letter_by_state")]

    def __str__(self) -> str:
        return f"{self.kind}: {self.state}"
