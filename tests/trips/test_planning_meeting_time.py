"""When people meet, by the definition (definitions of this project, "Meeting time")."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from trips.planning.meeting_time import meeting_time

SUNSET = datetime(2027, 7, 2, 19, 32, 41, tzinfo=UTC)
OUT = datetime(2027, 7, 2, 20, tzinfo=UTC)
LATER = timedelta(hours=3)
MINUTE = timedelta(minutes=1)


def meet(*, sunset: datetime | None = SUNSET, wanted: datetime | None) -> datetime:
    return meeting_time(sunset=sunset, wanted=wanted, out_from=OUT)


def test_people_meet_an_hour_before_sunset_if_the_wanted_span_starts_within_three_hours() -> None:
    early = datetime(2027, 7, 2, 18, 32, tzinfo=UTC)
    assert meet(wanted=SUNSET + timedelta(minutes=50)) == early
    assert meet(wanted=SUNSET + LATER) == early


def test_people_do_not_wait_through_the_evening_for_a_later_span() -> None:
    assert meet(wanted=SUNSET + LATER + MINUTE) == datetime(2027, 7, 2, 21, 48, tzinfo=UTC)


def test_without_a_sunset_people_meet_45_minutes_before_the_span() -> None:
    wanted = datetime(2027, 12, 2, 20, 10, tzinfo=UTC)
    assert meet(sunset=None, wanted=wanted) == datetime(2027, 12, 2, 19, 25, tzinfo=UTC)


def test_with_nothing_wanted_the_sunset_decides_and_without_one_the_hours_out() -> None:
    assert meet(wanted=None) == datetime(2027, 7, 2, 18, 32, tzinfo=UTC)
    assert meet(sunset=None, wanted=None) == OUT
