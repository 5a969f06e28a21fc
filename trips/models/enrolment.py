"""A person on a trip: from the first asking to having been there, with the private link."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from trips.models.linked import Linked
from trips.models.person import Person
from trips.models.trip import Trip
from trips.queries import EnrolmentQuerySet

COMING = ("held", "placed")
HAS_A_PLACE = (*COMING, "no_show")
OVER = ("given_back", "lapsed", "removed")


class Enrolment(Linked):
    """`place` is one of the trip's places, 1 to its capacity: no two people have the same one."""

    LINK_PURPOSE = "enrolment"

    class State(models.TextChoices):
        ASKED = "asked", _("asked, mail not confirmed")
        WAITING = "waiting", _("on the waiting list")
        HELD = "held", _("place held")
        PLACED = "placed", _("has a place")
        NO_SHOW = "no_show", _("did not come")
        GIVEN_BACK = "given_back", _("gave the place back")
        LAPSED = "lapsed", _("let the place lapse")
        REMOVED = "removed", _("taken off")

    trip = models.ForeignKey(Trip, on_delete=models.CASCADE, related_name="enrolments")
    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="enrolments")
    state = models.CharField(max_length=10, choices=State.choices, default=State.ASKED)
    place = models.PositiveSmallIntegerField(null=True, editable=False)
    # The order of the waiting list; given once, when the mail is confirmed.
    queue_number = models.PositiveIntegerField(null=True, editable=False)

    asked_at = models.DateTimeField()
    confirmed_at = models.DateTimeField(null=True)
    held_until = models.DateTimeField(null=True)
    placed_at = models.DateTimeField(null=True)
    ended_at = models.DateTimeField(null=True)

    health_note = models.TextField(_("health"), blank=True, max_length=2000)
    health_consent_at = models.DateTimeField(null=True)
    wish = models.TextField(_("what you would like to photograph"), blank=True, max_length=10_000)

    objects = EnrolmentQuerySet.as_manager()

    class Meta:
        ordering = ["queue_number", "pk"]
        indexes = [models.Index(fields=["state", "held_until"], name="enrolment_held_until")]
        constraints = [
            models.UniqueConstraint(fields=["trip", "place"], name="place_taken_once"),
            models.UniqueConstraint(
                fields=["trip", "person"], condition=~Q(state__in=OVER), name="person_once_a_trip"
            ),
            models.CheckConstraint(
                condition=Q(place=None, state__in=("asked", "waiting", *OVER))
                | Q(place__gte=1, state__in=HAS_A_PLACE),
                name="who_has_a_place_has_its_number",
            ),
            models.CheckConstraint(
                condition=Q(health_note="") | Q(health_consent_at__isnull=False),
                name="health_only_with_consent",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person_id} on {self.trip_id}: {self.state}"
