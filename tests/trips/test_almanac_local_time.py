"""Instants on the clock of a place, and the night that each belongs to."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from trips.almanac.local_time import night_at

MADRID = ZoneInfo("Europe/Madrid")


@pytest.mark.parametrize(
    ("day", "change"),
    [(date(2027, 3, 28), "forward"), (date(2027, 10, 31), "back"), (date(2027, 7, 3), "not")],
)
def test_a_night_begins_at_noon_on_the_clock_whichever_way_clocks_changed(
    day: date, change: str
) -> None:
    def night(hour: int, minute: int) -> date:
        typed = datetime(day.year, day.month, day.day, hour, minute, tzinfo=MADRID)
        return night_at(typed, "Europe/Madrid")

    assert night(11, 59) == date.fromordinal(day.toordinal() - 1), change
    assert night(12, 0) == night(12, 30) == night(23, 59) == day, change
