"""When a trip is warned about, and when not: each threshold from both sides."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

from trips.planning.trip_warnings import (
    PlannedNight,
    PlannedTrip,
    Thresholds,
    TripWarning,
    warnings,
)

FIRST = date(2027, 7, 3)
USUAL = Thresholds()


def night(number: int = 0, **facts: Any) -> PlannedNight:
    """A short evening in summer time, 20:00 to 23:30 on the clock of the wall."""
    day = datetime(2027, 7, 3, tzinfo=UTC) + timedelta(days=number)
    usual: dict[str, Any] = {
        "date": day.date(),
        "zone": "Europe/Madrid",
        "meeting_at": day + timedelta(hours=18),
        "ends_at": day + timedelta(hours=21, minutes=30),
    }
    return PlannedNight(**usual | facts)


def ends(number: int, hours: float) -> datetime:
    """An end so many hours after 00:00 UTC of that evening: 23 is 01:00 on the clock."""
    return datetime(2027, 7, 3, tzinfo=UTC) + timedelta(days=number, hours=hours)


def trip(*nights: PlannedNight, **facts: Any) -> PlannedTrip:
    usual: dict[str, Any] = {"nights": nights or (night(),), "people": 6, "leaders": 1}
    return PlannedTrip(**usual | facts)


def codes(planned: PlannedTrip, limits: Thresholds = USUAL) -> list[tuple[str, date | None]]:
    return [(found.code, found.night) for found in warnings(planned, limits)]


def only(planned: PlannedTrip, code: str) -> TripWarning:
    return next(found for found in warnings(planned, USUAL) if found.code == code)


def test_a_short_evening_is_not_warned_about() -> None:
    assert codes(trip(night(), night(1))) == []


def test_a_long_drive_before_the_first_night_is_and_one_of_four_hours_is_not() -> None:
    assert codes(trip(drive_before_hours=4.0)) == []
    assert codes(trip(drive_before_hours=4.1)) == [("first_drive", FIRST)]
    assert codes(trip(drive_before_hours=None)) == []


def test_more_than_an_hour_on_the_road_after_one_is_late_and_an_hour_is_not() -> None:
    one_in_the_morning = ends(0, 23)
    assert codes(trip(night(ends_at=one_in_the_morning, drive_minutes=60))) == []
    late = trip(night(ends_at=one_in_the_morning, drive_minutes=61))
    assert codes(late) == [("late_drive", FIRST)]
    # Half of a drive of two hours is over by then.
    assert codes(trip(night(ends_at=ends(0, 22), drive_minutes=120))) == []


def test_the_hour_that_is_late_is_one_of_the_site_s_clock() -> None:
    planned = night(ends_at=ends(0, 23), drive_minutes=90)
    assert codes(trip(planned)) == [("late_drive", FIRST)]
    assert codes(trip(replace(planned, zone="Atlantic/Azores"))) == []


def test_under_seven_hours_until_the_next_start_is_too_little_rest() -> None:
    leaving = night(next_start_at=ends(0, 28.5))
    assert codes(trip(leaving)) == []
    early = replace(leaving, next_start_at=ends(0, 28.4), drive_minutes=30)
    assert codes(trip(early)) == [("rest", FIRST)]
    figures = only(trip(early), "rest").figures
    assert round(figures["hours"], 2) == 6.9
    assert figures["drive_hours"] == 0.5


def test_the_next_night_s_meeting_is_a_start_too() -> None:
    planned = [night(), night(1, meeting_at=ends(0, 26))]
    assert codes(trip(*planned)) == [("rest", FIRST)]


def test_the_third_late_night_running_is_one_too_many_and_two_are_not() -> None:
    late = [night(n, ends_at=ends(n, 23.1)) for n in range(4)]
    assert codes(trip(*late[:2])) == []
    assert codes(trip(*late)) == [("late_nights", date(2027, 7, 5))]
    # An evening off, or one that ends in time, parts them.
    assert codes(trip(late[0], late[1], late[3])) == []
    assert codes(trip(late[0], night(1), late[2], late[3])) == []


def test_a_drive_makes_a_night_late() -> None:
    late = [night(n, ends_at=ends(n, 22.9), drive_minutes=30) for n in range(3)]
    assert codes(trip(*late)) == [("late_nights", date(2027, 7, 5))]


def test_sleeping_above_two_and_a_half_thousand_metres_wants_a_night_lower_down_first() -> None:
    assert codes(trip(night(slept_at_m=2500))) == []
    high = night(slept_at_m=2501)
    assert codes(trip(high, replace(night(1), slept_at_m=3000))) == [("sleeping_height", FIRST)]
    assert codes(trip(high, is_acclimatised=True)) == []


def test_a_night_that_outlasts_its_spot_is_told_and_one_that_ends_in_time_is_not() -> None:
    leave = ends(0, 21.5)
    assert codes(trip(night(leave_spot_by=leave, ends_at=leave))) == []
    longer = trip(night(leave_spot_by=leave, ends_at=leave + timedelta(minutes=1)))
    assert codes(longer) == [("leave_by", FIRST)]


def test_at_an_edge_water_or_ice_six_people_have_a_leader() -> None:
    edge = night(hazards=frozenset({"edge", "cold"}))
    assert codes(trip(edge, people=6)) == []
    assert codes(trip(edge, people=7)) == [("leaders", FIRST)]
    assert codes(trip(edge, people=7, leaders=2)) == []
    assert codes(trip(night(hazards=frozenset({"cold"})), people=30)) == []
    assert only(trip(edge, people=13), "leaders").figures["wanted"] == 3


def test_seats_are_for_the_leaders_too() -> None:
    assert codes(trip(night(seats=7))) == []
    assert codes(trip(night(seats=6))) == [("seats", FIRST)]
    assert codes(trip(night(seats=None))) == []


def test_nobody_drives_twice_running_but_may_after_an_evening_off() -> None:
    names = frozenset({"i1", "e4"})
    drives = [night(n, drivers=names if n != 1 else frozenset({"e4"})) for n in range(3)]
    found = [("same_driver", date(2027, 7, 4)), ("same_driver", date(2027, 7, 5))]
    assert codes(trip(*drives)) == found
    assert only(trip(*drives), "same_driver").figures["drivers"] == ("e4",)
    assert codes(trip(drives[0], drives[2])) == []


def test_a_trip_s_own_thresholds_count() -> None:
    limits = Thresholds(
        rest_hours=0,
        late_drive_hours=3,
        first_drive_hours=9,
        late_nights_running=5,
        sleeping_height_m=4000,
        people_per_leader=30,
    )
    nights = [
        night(
            n, ends_at=ends(n, 23), drive_minutes=120, slept_at_m=3000, hazards=frozenset({"ice"})
        )
        for n in range(4)
    ]
    planned = trip(*nights, people=30, drive_before_hours=8.0)
    assert codes(planned, limits) == []
    assert {code for code, _ in codes(planned)} == {
        "first_drive", "late_drive", "late_nights", "sleeping_height", "leaders",
    }  # fmt: skip


def test_a_trip_without_nights_has_no_warnings() -> None:
    assert codes(trip(nights=(), drive_before_hours=9.0)) == []
