"""What a person takes along: all that is kept of them, and nothing of anybody else."""

from __future__ import annotations

import json

from tests.conftest import WHEN, Cast
from tests.trips.full_trip import fill
from trips.models import (
    Brief,
    CalendarLink,
    Drive,
    Enrolment,
    Letter,
    Loan,
    OwnGear,
    PersonalPlan,
    Tick,
    Turn,
)
from trips.services.kept import kept_of
from trips.services.letters import queue

TAKEN = {
    OwnGear: "gear", Loan: "loans", Turn: "turns", Drive: "drives", Tick: "head_counts",
    PersonalPlan: "plans", CalendarLink: "has_calendar", Letter: "letters",
}  # fmt: skip


def test_all_that_hangs_on_a_place_is_taken_along_and_nobody_else(cast: Cast) -> None:
    fill(cast.trip, 2, now=WHEN)
    mine, other = cast.trip.enrolments.order_by("pk")
    for enrolment in (mine, other):
        _plan(cast, enrolment)
    kept = kept_of(mine, at=WHEN)
    assert {one.related_model for one in Enrolment._meta.related_objects} == set(TAKEN)
    assert [key for key in TAKEN.values() if not kept[key]] == []
    said = json.dumps(kept)
    assert mine.person.name in said
    assert other.person.name not in said


def _plan(cast: Cast, enrolment: Enrolment) -> None:
    brief, _is_new = Brief.objects.get_or_create(
        night=cast.trip_night, number=1, published_at=WHEN, facts={}, parts={}
    )
    facts = {"for": enrolment.person.name}
    PersonalPlan.objects.create(
        brief=brief, enrolment=enrolment, made_at=WHEN, facts=facts, parts={}
    )
    CalendarLink.objects.create(trip=cast.trip, enrolment=enrolment, link_hash=f"{enrolment.pk}")
    queue("placed", key=f"{enrolment.uid}", trip=cast.trip, enrolment=enrolment, due_at=WHEN)
