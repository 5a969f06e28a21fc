"""Eclipses as places see them: up or down, risen or set eclipsed, and how much is covered.

The instants are held against catalogues in tests/against/test_eclipses.py.
"""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from sky.eclipses.discs import Contact, touches
from sky.eclipses.local import LocalEclipse, covered, local_circumstances
from sky.eclipses.lunar import LunarEclipse, lunar_eclipses, seen_from
from sky.eclipses.solar import solar_eclipses
from sky.errors import SkyError
from sky.place import Place

BURGOS, TERUEL = Place(42.34, -3.70, 860), Place(40.34, -1.10, 900)
TARIFA, SYDNEY = Place(36.01, -5.61), Place(-33.87, 151.21)


def moon_on(day: date) -> LunarEclipse:
    (eclipse,) = lunar_eclipses(day, day)
    return eclipse


def sun_on(day: date, place: Place) -> LocalEclipse | None:
    (eclipse,) = solar_eclipses(day, day)
    return local_circumstances(eclipse, place)


def up(contacts: tuple[Contact, ...]) -> list[str]:
    return [one.name for one in contacts if one.is_visible]


def test_a_moon_that_rises_eclipsed_shows_the_later_contacts_only() -> None:
    contacts = seen_from(moon_on(date(2028, 12, 31)), TERUEL)
    assert [one.name for one in contacts] == ["P1", "U1", "U2", "greatest", "U3", "U4", "P4"]
    assert up(contacts) == ["greatest", "U3", "U4", "P4"]


def test_a_moon_that_is_up_all_through_shows_every_contact_and_elsewhere_none() -> None:
    eclipse = moon_on(date(2028, 12, 31))
    assert len(up(seen_from(eclipse, Place(35.0, 105.0)))) == 7
    assert up(seen_from(eclipse, Place(-20.0, -70.0))) == []


def test_a_penumbral_eclipse_is_watched_from_p1_to_p4_and_a_deeper_one_in_the_umbra() -> None:
    penumbral, partial = moon_on(date(2027, 2, 20)), moon_on(date(2028, 1, 12))
    assert (penumbral.span.start, penumbral.span.end) == (
        penumbral.contacts["P1"],
        penumbral.contacts["P4"],
    )
    assert (partial.span.start, partial.span.end) == (
        partial.contacts["U1"],
        partial.contacts["U4"],
    )


def test_dates_without_an_eclipse_have_none() -> None:
    assert lunar_eclipses(date(2028, 12, 30), date(2028, 12, 30)) == ()
    assert solar_eclipses(date(2027, 8, 3), date(2027, 8, 31)) == ()


@pytest.mark.parametrize("find", [lunar_eclipses, solar_eclipses])
@pytest.mark.parametrize(
    ("first", "last", "code"),
    [
        (date(1971, 12, 31), date(1972, 1, 1), "season_outside"),
        (date(2050, 12, 31), date(2051, 1, 1), "season_outside"),
        (date(2027, 2, 1), date(2027, 1, 1), "season_reversed"),
    ],
)
def test_dates_that_cannot_be_are_refused(find: object, first: date, last: date, code: str) -> None:
    assert callable(find)
    with pytest.raises(SkyError) as refused:
        find(first, last)
    assert refused.value.code == code


@pytest.mark.parametrize("year", [1972, 2050])
def test_the_first_and_the_last_year_have_at_least_two_of_each(year: int) -> None:
    """No year has fewer than two eclipses of the Sun (Meeus, ch. 54; from memory)."""
    assert len(solar_eclipses(date(year, 1, 1), date(year, 12, 31))) >= 2
    assert len(lunar_eclipses(date(year, 1, 1), date(year, 12, 31))) >= 2


def test_inside_the_path_it_is_total_and_beside_it_partial() -> None:
    inside, beside = sun_on(date(2027, 8, 2), TARIFA), sun_on(date(2027, 8, 2), TERUEL)
    assert inside is not None
    assert beside is not None
    assert (inside.type, beside.type) == ("total", "partial")
    assert inside.magnitude > 1
    assert inside.obscuration == 1
    assert 0.8 < beside.obscuration < beside.magnitude < 1
    assert [one.name for one in inside.contacts] == ["C1", "C2", "greatest", "C3", "C4"]
    assert [one.name for one in beside.contacts] == ["C1", "greatest", "C4"]


def test_on_the_night_side_there_is_no_eclipse() -> None:
    assert sun_on(date(2027, 8, 2), SYDNEY) is None


def test_where_the_moon_misses_the_sun_there_is_no_eclipse() -> None:
    # Up at 30° S by noon there, and far south of the penumbra.
    assert sun_on(date(2026, 8, 12), Place(-30.0, -60.0)) is None


def test_a_sun_that_sets_eclipsed_is_covered_most_when_it_sets() -> None:
    seen = sun_on(date(2026, 8, 12), Place(39.57, 2.65))
    assert seen is not None
    assert up(seen.contacts) == ["C1", "C2", "greatest", "C3"]
    sunset = sun_on(date(2026, 8, 12), Place(41.9, 12.5))
    assert sunset is not None
    assert sunset.type == "partial"
    assert up(sunset.contacts) == ["C1"]
    assert abs(sunset.best.altitude_degrees) < 0.4
    assert sunset.best.instant < next(
        one.instant for one in sunset.contacts if one.name == "greatest"
    )


def test_an_annular_eclipse_leaves_a_ring() -> None:
    ring = sun_on(date(2028, 1, 26), Place(39.47, -0.38))
    assert ring is not None
    assert ring.type == "annular"
    assert 0.8 < ring.obscuration < 1


def test_what_is_covered_grows_from_nothing_to_all() -> None:
    shares = [covered(apart, 1.0, 1.0) for apart in (2.5, 2.0, 1.0, 0.0)]
    assert shares[:2] == [0, 0]
    # Two circles, each through the other's centre: 2/3 − √3/(2π), elementary geometry.
    assert shares[2] == pytest.approx(2 / 3 - np.sqrt(3) / (2 * np.pi))
    assert shares[3] == 1
    assert covered(0.0, 1.0, 0.9) == pytest.approx(0.81)


def test_discs_that_pass_each_other_touch_twice_and_far_ones_never() -> None:
    tt = np.arange(-100.0, 101.0)
    apart = np.hypot(tt / 10, 3.0)
    assert touches(tt, apart, np.full_like(tt, 5.0)) == pytest.approx((-40.0, 40.0))
    assert touches(tt, apart, np.full_like(tt, 2.9)) is None


def test_discs_that_are_together_from_the_start_count_from_there() -> None:
    tt = np.arange(0.0, 101.0)
    assert touches(tt, tt, np.full_like(tt, 50.0)) == pytest.approx((0.0, 50.0))
