"""Usable dark: how far Moon and twilight may brighten the sky toward something."""

from __future__ import annotations

from datetime import date
from functools import cache, partial

import numpy as np
import pytest
from numpy.typing import NDArray

from sky.errors import SkyError
from sky.light.brightness import LocalSky, bodies_at, sky_toward
from sky.light.usable import SAMPLE_SECONDS, DarkEnough, usable_overhead, usable_spans
from sky.lights import light_spans
from sky.moving import directions_at, standings_at
from sky.night import SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL
from sky.span_arrays import intersect
from sky.targets.kinds import target_of
from sky.windows import Wanted, find_windows

Floats = NDArray[np.float64]

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
TROMSO = Place(69.65, 18.96, 10, "Europe/Oslo")
FIRST, LAST = date(2027, 9, 1), date(2027, 9, 30)
MINUTE = 60.0
CITY = DarkEnough(LocalSky(zenith_mag=18.5))
CORE = target_of("milky-way:core")


@cache
def table_of(place: Place = TERUEL, first: date = FIRST, last: date = LAST) -> SeasonTable:
    return compute_season([place], first, last)


def hours(spans: Floats) -> float:
    return float(np.diff(spans).sum() / 3600)


def on(evening: date, spans: Floats, table: SeasonTable | None = None) -> Floats:
    season = table or table_of()
    noons = season.noons[0]
    night = (evening - season.first).days
    return intersect(spans, np.array([noons[night : night + 2]]))


def longest(marks: NDArray[np.bool_]) -> int:
    """Count the most that follow each other."""
    gaps = np.flatnonzero(np.concatenate(([True], ~marks, [True])))
    return int(np.diff(gaps).max()) - 1


def sun_at(instant: float) -> float:
    return float(bodies_at(TERUEL, np.array([instant])).sun_altitude[0])


def test_a_thin_low_crescent_does_not_cost_an_evening() -> None:
    usable, moonless = (
        usable_overhead(table_of(), 0, DarkEnough()),
        light_spans(table_of(), 0, "moonless"),
    )
    evening = date(2027, 9, 2)  # three days after the new Moon of 31 August, 8 % lit
    assert on(evening, usable)[0, 0] < on(evening, moonless)[0, 0] - 10 * MINUTE


def test_a_full_moon_costs_the_night() -> None:
    assert hours(on(date(2027, 9, 15), usable_overhead(table_of(), 0, DarkEnough()))) == 0


def test_twilight_ends_between_nautical_and_astronomical_dusk_where_no_lamp_hides_it() -> None:
    spans = on(date(2027, 9, 29), usable_overhead(table_of(), 0, DarkEnough()))
    assert -18 < sun_at(spans[0, 0]) < -14
    assert -18 < sun_at(spans[-1, 1]) < -14


def test_a_lit_sky_hides_twilight_and_moon_for_longer() -> None:
    natural, city = (usable_overhead(table_of(), 0, enough) for enough in (DarkEnough(), CITY))
    assert hours(city) > hours(natural)
    assert intersect(city, natural) == pytest.approx(natural)


def test_who_bears_more_has_more() -> None:
    little, much = (usable_overhead(table_of(), 0, DarkEnough(loss_mag=mag)) for mag in (0.1, 1.0))
    assert hours(much) > hours(little)
    assert intersect(much, little) == pytest.approx(little)


@pytest.mark.parametrize("key", ["milky-way:core", "deep-sky:NGC0224", "planet:saturn"])
@pytest.mark.parametrize("enough", [DarkEnough(), CITY], ids=["natural", "city"])
def test_each_minute_looked_at_alone_says_the_same(key: str, enough: DarkEnough) -> None:
    point = target_of(key).points[0]
    night = light_spans(table_of(), 0, "usable")
    (found,) = usable_spans(partial(standings_at, [point], TERUEL), TERUEL, [night], enough)
    minutes = np.concatenate([np.arange(start, end, MINUTE) for start, end in night])
    seen = directions_at(point, TERUEL, minutes)
    light = sky_toward(
        enough.sky, seen.altitude_degrees, seen.azimuth_degrees, bodies_at(TERUEL, minutes)
    )
    is_dark = light.loss_mag <= enough.loss_mag
    inside = np.searchsorted(found[:, 0], minutes, side="right") - 1
    is_found = (inside >= 0) & (minutes <= found[inside, 1])
    edge = np.abs(found.ravel()[:, None] - minutes).min(axis=0) < 10
    assert is_dark.any()
    assert not is_dark.all()
    # Between moonset and twilight there may be a few minutes of dark, too few to be looked at.
    assert longest(is_dark[~edge] != is_found[~edge]) * MINUTE < SAMPLE_SECONDS


def test_targets_judged_together_are_judged_as_each_alone() -> None:
    wanted = [
        Wanted(target_of(key), "usable", 10.0)
        for key in ("milky-way:core", "milky-way:arch", "planet:saturn", "deep-sky:NGC0224")
    ]
    together = find_windows(wanted, TERUEL, LEVEL, table_of(), enough=CITY)
    for one, found in zip(wanted, together, strict=True):
        (alone,) = find_windows([one], TERUEL, LEVEL, table_of(), enough=CITY)
        assert found.spans == pytest.approx(alone.spans, abs=1)
    assert sum(len(found.spans) for found in together) > 40


def test_windows_in_usable_dark_lie_inside_those_in_any_light() -> None:
    usable, any_light = (
        find_windows([Wanted(CORE, light, 8.0)], TERUEL, LEVEL, table_of())[0].spans
        for light in ("usable", "any")
    )
    assert intersect(any_light, usable) == pytest.approx(usable)
    assert 0 < hours(usable) < hours(any_light)


def test_nothing_is_usable_where_the_sun_stays_near_the_horizon() -> None:
    table = table_of(TROMSO, date(2027, 6, 1), date(2027, 6, 10))
    assert usable_overhead(table, 0, DarkEnough()).shape == (0, 2)
    wanted = Wanted(target_of("deep-sky:NGC0224"), "usable", 10.0)
    assert len(find_windows([wanted], TROMSO, LEVEL, table)[0].spans) == 0


@pytest.mark.parametrize("mag", [0.0, -0.2, 2.1, float("nan")])
def test_a_loss_that_nobody_means_is_refused(mag: float) -> None:
    with pytest.raises(SkyError) as refused:
        DarkEnough(loss_mag=mag)
    assert refused.value.code == "loss_outside"
