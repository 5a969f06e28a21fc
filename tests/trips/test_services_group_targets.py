"""Which of a night's targets a group can take, counted from its gear and held against each lens."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.conftest import WHEN, Cast
from trips.almanac.lens_tonight import Take, take
from trips.models import Enrolment, LoanItem, Person, TargetList
from trips.planning.gear import Camera, Lens, Piece, Tracker, written
from trips.services.gear import add_piece, gear_of
from trips.services.gear_nights import wants_panorama
from trips.services.gear_rigs import carrying, rigs_of
from trips.services.group_targets import ANY_TRACKER, GroupTargets, group_targets
from trips.services.loans import lend

CAMERA = Camera(
    sensor_width_mm=36.0, sensor_height_mm=24.0, pixels_wide=6000, pixels_high=4000, top_iso=12_800
)
WIDE = Lens(focal_mm=24.0, widest_f_number=1.8)
LONG = Lens(focal_mm=200.0, widest_f_number=4.0)
TRACKER = Tracker(payload_kg=5.0)
# Right ascension and declination; the last is not up before midnight in March.
WANTED = [
    ("Wide evening", "position:83.8,-5.4", 50.0),
    ("Deep", "position:148.9,69.1", 6.0),
    ("Arch of light", "position:150,40", 160.0),
    ("Late", "position:255,20", 50.0),
]


@pytest.fixture
def people(cast: Cast) -> list[Enrolment]:
    """One with a wide lens, one with a long one, one with both, one who has said nothing."""
    wanted = TargetList.objects.create(organisation=cast.club, name="March, by position")
    for name, target, field in WANTED:
        wanted.entries.create(name=name, target=target, field_degrees=field)
    trip = cast.trip
    trip.target_list = wanted
    trip.save()
    bags = [(CAMERA, WIDE), (CAMERA, LONG), (CAMERA, WIDE, LONG), ()]
    return [_enrol(cast, n, bag) for n, bag in enumerate(bags)]


def _found(cast: Cast, people: list[Enrolment]) -> GroupTargets:
    found = group_targets(cast.trip, cast.trip_night, people)
    assert found is not None
    assert found.targets
    return found


def test_each_is_counted_as_each_of_their_lenses_takes_it(
    cast: Cast, people: list[Enrolment]
) -> None:
    found = _found(cast, people)
    for row in found.rows:
        for person in people[:3]:
            rigs = list(rigs_of(gear_of(person)))
            takes = [take(one.rig, found.targets[row.target]) for one in rigs]
            stands = any(_fits(one) and one.standing.is_possible for one in takes)
            assert (person.pk in row.able) == stands


def test_what_is_wider_than_a_frame_is_taken_as_a_panorama(
    cast: Cast, people: list[Enrolment]
) -> None:
    found = _found(cast, people)
    row = next(row for row in found.rows if found.targets[row.target].name == "Arch of light")
    assert people[0].pk in row.able
    assert row.no_lens == ()


def test_what_stands_only_after_people_have_left_is_named_and_not_counted(
    cast: Cast, people: list[Enrolment]
) -> None:
    night = cast.trip_night
    assert "Late" in [one.name for one in _found_until(cast, people, hours=13).targets]
    found = _found_until(cast, people, hours=3)
    assert "Late" in found.at_other_hours
    ends = (night.meeting_at + timedelta(hours=3)).timestamp()
    assert all(one.at <= ends for one in found.targets)


def test_who_has_said_nothing_is_in_no_count_and_is_named(
    cast: Cast, people: list[Enrolment]
) -> None:
    found = _found(cast, people)
    assert found.silent == (people[3].pk,)
    assert all(people[3].pk not in row.no_lens for row in found.rows)


def test_whom_a_tracker_helps_frames_the_target_and_cannot_expose_it_standing(
    cast: Cast, people: list[Enrolment]
) -> None:
    found = _found(cast, people)
    for row in found.rows:
        for pk in row.wanting:
            rigs = rigs_of(gear_of(Enrolment.objects.get(pk=pk)))
            with_one = [
                replace(one.rig, tracker=carrying([ANY_TRACKER], one.camera, one.lens))
                for one in rigs
            ]
            takes = [take(rig, found.targets[row.target]) for rig in with_one]
            assert not any(_fits(one) and one.standing.is_possible for one in takes)
            assert any(_fits(one) and one.tracked and one.tracked.is_possible for one in takes)


def test_a_tracker_lent_that_evening_is_no_longer_free_and_counts_for_who_has_it(
    cast: Cast, people: list[Enrolment]
) -> None:
    item = LoanItem.objects.create(
        organisation=cast.club, kind="tracker", name="The small one", spec=written(TRACKER)
    )
    before = _found(cast, people)
    assert before.free == 1
    lend(item, cast.trip_night, people[1], by=cast.instructor, now=WHEN)
    after = _found(cast, people)
    assert after.free == 0
    assert all(one.person != people[1].pk for one in after.lent)


def _found_until(cast: Cast, people: list[Enrolment], *, hours: float) -> GroupTargets:
    night = cast.trip_night
    night.ends_at = night.meeting_at + timedelta(hours=hours)
    night.save()
    found = group_targets(cast.trip, night, people)
    assert found is not None
    return found


def _fits(one: Take) -> bool:
    return one.frames or wants_panorama(one.target.target.key, one.target.field_degrees)


def _enrol(cast: Cast, n: int, bag: tuple[Piece, ...]) -> Enrolment:
    person = Person.objects.create(
        organisation=cast.club, name=f"Person {n}", mail=f"person{n}@meadow.example"
    )
    row = Enrolment(
        trip=cast.trip, person=person, state="placed", place=n + 1, asked_at=WHEN, link_hash=f"{n}"
    )
    row.save()
    for piece in bag:
        add_piece(row, piece)
    return row
