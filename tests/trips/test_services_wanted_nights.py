"""The wanted targets of given nights, in the order of the night."""

from __future__ import annotations

from datetime import date

import pytest

from tests.conftest import Cast
from tests.trips.stored_windows import store_windows, unix
from trips.models import TargetEntry
from trips.services.wanted import Asked
from trips.services.wanted_nights import Evening, TargetNight, wanted_in

NIGHT, NEXT = date(2027, 3, 4), date(2027, 3, 5)


def evening(day: date, until: float = 5) -> Evening:
    """Out from 20:00 UTC, eight hours after noon."""
    return Evening(day, (unix(day, -8), unix(day, 16)), (unix(day, 0), unix(day, until)))


def wanted(cast: Cast, *evenings: Evening) -> dict[date, tuple[TargetNight, ...]]:
    asked = Asked(cast.target_list.pk, date(2027, 3, 1), date(2027, 3, 31), -18)
    return wanted_in(cast.site, asked.entries(), evenings)


@pytest.fixture
def entries(cast: Cast) -> list[TargetEntry]:
    return list(cast.target_list.entries.all())


def test_targets_stand_in_the_order_of_the_night(cast: Cast, entries: list[TargetEntry]) -> None:
    core, nebula = entries
    store_windows(core, cast.site, {NIGHT: (3, 4)})
    store_windows(nebula, cast.site, {NIGHT: (1, 4)})
    found = wanted(cast, evening(NIGHT))[NIGHT]
    assert [target.name for target in found] == ["North America Nebula", "Galactic core"]


def test_hours_are_those_while_people_are_out(cast: Cast, entries: list[TargetEntry]) -> None:
    store_windows(entries[0], cast.site, {NIGHT: (-1, 8)})
    (found,) = wanted(cast, evening(NIGHT, until=5))[NIGHT]
    assert found.hours == 5
    assert found.pieces == ((unix(NIGHT, 0), unix(NIGHT, 5)),)


def test_what_stands_right_when_nobody_is_out_is_not_told(
    cast: Cast, entries: list[TargetEntry]
) -> None:
    store_windows(entries[0], cast.site, {NIGHT: (6, 8)})
    assert wanted(cast, evening(NIGHT, until=5))[NIGHT] == ()


def test_the_best_moment_may_be_after_people_left(cast: Cast, entries: list[TargetEntry]) -> None:
    store_windows(entries[0], cast.site, {NIGHT: (2, 10)})
    (found,) = wanted(cast, evening(NIGHT, until=5))[NIGHT]
    assert found.best is not None
    assert (found.best.at, found.best.altitude, found.best.azimuth) == (unix(NIGHT, 6), 40, 180)


def test_a_night_has_its_own_windows_and_not_its_neighbour_s(
    cast: Cast, entries: list[TargetEntry]
) -> None:
    store_windows(entries[0], cast.site, {NIGHT: (1, 2), NEXT: (3, 4)})
    found = wanted(cast, evening(NIGHT), evening(NEXT))
    assert [target.pieces for target in found[NEXT]] == [((unix(NEXT, 3), unix(NEXT, 4)),)]


def test_windows_of_another_site_are_not_told(cast: Cast, entries: list[TargetEntry]) -> None:
    store_windows(entries[0], cast.far_site, {NIGHT: (1, 2)})
    assert wanted(cast, evening(NIGHT))[NIGHT] == ()
