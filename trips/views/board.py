"""What every part of a trip's board reads from: the trip, read once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.http import HttpRequest
from django.utils import timezone

from trips.models import Enrolment, Trip, TripInstructor, TripNight, User
from trips.views.members import coordinated, member


@dataclass(frozen=True, slots=True)
class Board:
    """A trip as one member sees it. Nights in order of date with their spots and sites,
    enrolments with their persons, whatever their state.

    `viewer_leads`: who looks is an instructor of this trip, and may read health notes;
    `may_change`: or coordinates the organisation, and may change the trip.
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
    """Read the trip for whoever asks. Three queries, four for who does not lead it."""
    nights = TripNight.objects.filter(trip=trip).select_related("spot__site", "second_spot__site")
    leading = TripInstructor.objects.filter(trip=trip).select_related("user")
    enrolled = Enrolment.objects.filter(trip=trip).select_related("person")
    viewer, instructors = member(request), tuple(leading)
    leads = any(one.user_id == viewer.pk for one in instructors)
    return Board(
        trip=trip,
        nights=tuple(nights),
        instructors=instructors,
        enrolments=tuple(enrolled),
        viewer=viewer,
        may_change=leads or bool(coordinated(request, [trip.organisation])),
        now=timezone.now(),
    )
