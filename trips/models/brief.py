"""What a night's participants are given: an instructor's hand, numbered versions, a plan for each.

A published version is never changed and holds no personal data; what is somebody's own hangs on
the enrolment and goes with it.
"""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.enrolment import Enrolment
from trips.models.linked import Linked
from trips.models.trip import Trip
from trips.models.trip_night import TripNight
from trips.models.user import User
from trips.queries import OfNightQuerySet, OfTripQuerySet

LONGEST_NOTE = 20_000


class BriefNote(models.Model):
    """What an instructor wrote into one part, beside what is computed or instead of it."""

    night = models.ForeignKey(TripNight, on_delete=models.CASCADE, related_name="brief_notes")
    version = models.PositiveIntegerField(default=1, editable=False)
    # A name of planning/brief/parts.py.
    part = models.CharField(max_length=24)
    text = models.TextField(_("your words"), max_length=LONGEST_NOTE)
    is_instead = models.BooleanField(
        _("instead of what is computed"),
        default=False,
        help_text=_("Otherwise both stand there, yours first."),
    )

    objects = OfNightQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["night", "part"], name="one_note_a_part"),
        ]

    def __str__(self) -> str:
        return f"{self.night_id} {self.part}"


class Brief(models.Model):
    """One version of a night's brief. `facts` is the truth; `parts` its HTML, rendered once."""

    night = models.ForeignKey(TripNight, on_delete=models.CASCADE, related_name="briefs")
    number = models.PositiveIntegerField()
    published_at = models.DateTimeField()
    published_by = models.ForeignKey(User, on_delete=models.SET_NULL, null=True, related_name="+")
    facts = models.JSONField()
    parts = models.JSONField()
    # Sentences: what is other than in the version before.
    changes = models.JSONField(default=list)
    is_mailed = models.BooleanField(default=False)
    # Of the worker that makes its plans; all else is never changed.
    lease_owner = models.UUIDField(null=True, editable=False)
    lease_expires_at = models.DateTimeField(null=True, editable=False)

    objects = OfNightQuerySet.as_manager()

    class Meta:
        ordering = ["night", "-number"]
        constraints = [
            models.UniqueConstraint(fields=["night", "number"], name="brief_numbered_once"),
        ]

    def __str__(self) -> str:
        return f"{self.night_id} version {self.number}"


class BriefPicture(models.Model):
    """A picture of a version as mail can show it; the page has its SVG inside `parts`."""

    brief = models.ForeignKey(Brief, on_delete=models.CASCADE, related_name="pictures")
    name = models.CharField(max_length=40)
    description = models.TextField()
    png = models.BinaryField()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["brief", "name"], name="picture_once_a_brief"),
        ]

    def __str__(self) -> str:
        return f"{self.brief_id} {self.name}"


class PersonalPlan(models.Model):
    """What a version says to one person: only the facts and parts that are other than everybody's.

    Deleted when the gear changes, and made anew by a sweep.
    """

    brief = models.ForeignKey(Brief, on_delete=models.CASCADE, related_name="plans")
    enrolment = models.ForeignKey(Enrolment, on_delete=models.CASCADE, related_name="plans")
    made_at = models.DateTimeField()
    facts = models.JSONField()
    parts = models.JSONField()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["brief", "enrolment"], name="one_plan_a_person"),
        ]

    def __str__(self) -> str:
        return f"{self.brief_id} for {self.enrolment_id}"


class CalendarLink(Linked):
    """A calendar that other programs subscribe to: of a trip, or (with one) of a person's place."""

    LINK_PURPOSE = "calendar"

    trip = models.ForeignKey(Trip, on_delete=models.CASCADE, related_name="calendar_links")
    enrolment = models.OneToOneField(
        Enrolment, on_delete=models.CASCADE, null=True, related_name="calendar_link"
    )

    objects = OfTripQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["trip"],
                condition=models.Q(enrolment=None),
                name="one_calendar_link_a_trip",
            ),
        ]

    def __str__(self) -> str:
        return f"calendar of {self.enrolment_id or self.trip_id}"
