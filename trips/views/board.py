"""What every part of a trip's board reads from: the trip, read once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.http import HttpRequest
from django.utils import timezone

from trips.models import Enrolment, Trip, TripInstructor, TripNight, User
from trips.services.leading import may_change
from trips.services.trip_nights import nights_of
from trips.views.members import member


@dataclass(frozen=True, slots=True)
class Board:
    """A trip as one member sees it. Nights in order of date with their spots and sites,
    enrolments with their persons, whatever their state.

    `viewer_leads`: who looks is an instructor of this trip, and may read health notes;
    `may_change`: it is theirs to change (`services/leading.py`).
    """

    trip: Trip
    nights: tuple[TripNight, ...]
    instructors: tuple[TripInstructor, ...]
    enrolments: tuple[Enrolment, ...]
    viewer: User
    may_change: bool
    now: datetime

    @property
    def viewer_leads(self) -> bool:
        return any(one.user_id == self.viewer.pk for one in self.instructors)

    @property
    def placed(self) -> list[Enrolment]:
        """Give those who have a place, in the order of their names."""
        having = (one for one in self.enrolments if one.place is not None)
        return sorted(having, key=lambda one: (one.person.name.casefold(), one.pk))


def board_of(request: HttpRequest, trip: Trip) -> Board:
    """Read the trip for whoever asks. Three queries, one more on a coast, for its tides, and one
    for who does not lead it."""
    leading = tuple(TripInstructor.objects.filter(trip=trip).select_related("user"))
    enrolled = tuple(Enrolment.objects.filter(trip=trip).select_related("person"))
    for row in (*leading, *enrolled):
        row.trip = trip  # so that nobody asks for it again
    viewer = member(request)
    return Board(
        trip=trip,
        nights=nights_of(trip),
        instructors=leading,
        enrolments=enrolled,
        viewer=viewer,
        may_change=may_change(viewer, trip, leading=leading),
        now=timezone.now(),
    )
