"""The targets of one night against Skyfield asked every twenty seconds, and the airmass by hand.

Referee: Skyfield 1.55 with JPL DE421, all conditions written here once more from the definitions:
the Sun 18° down, or 0.8333°, the Moon's upper limb below −34′, the least altitude apparent, with
refraction after Saemundsson (Sky & Telescope 72 (1986) 70) at 10 °C.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from skyfield.api import Star

from sky.constants import MOON_RADIUS_KM
from sky.ephemeris import timescale
from sky.place import Place
from sky.targets.kinds import target_of
from sky.targets.target import FixedPoint
from tests.against import skyfield_search as referee
from trips.almanac.night_targets import NightTarget, night_targets
from trips.models import Site, TargetEntry

Floats = NDArray[np.float64]

STEP = 20.0
NORTH = Site(latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
SOUTH = Site(latitude=-30.2, longitude=21.0, elevation_m=1400, zone="Africa/Johannesburg")
JULY, NOVEMBER = date(2027, 7, 3), date(2027, 11, 20)


@pytest.fixture(scope="module")
def kernel() -> Iterator[Any]:
    with referee.kernel() as opened:
        yield opened


class Seen:
    """A night's sky as Skyfield has it, from noon to noon of the site's zone."""

    def __init__(self, kernel: Any, site: Site, start: float) -> None:
        self._from = referee.observer(
            kernel, Place(site.latitude, site.longitude, site.elevation_m)
        )
        self._kernel, self._elevation_m = kernel, site.elevation_m
        self.unix = start + np.arange(0.0, 86_400.0, STEP)

    def altaz(self, body: Any, unix: Floats) -> tuple[Floats, Floats, Floats]:
        time = timescale().from_datetimes([datetime.fromtimestamp(at, UTC) for at in unix])
        height, azimuth, distance = self._from.at(time).observe(body).apparent().altaz()
        return height.degrees, azimuth.degrees, distance.km

    def apparent(self, key: str, unix: Floats) -> tuple[Floats, Floats]:
        height, azimuth, _ = self.altaz(self._body(key), unix)
        lift = 1.02 / np.tan(np.radians(height + 10.3 / (height + 5.11))) / 60
        return height + lift * np.exp(-self._elevation_m / 8400), azimuth

    def is_lit(self, light: str) -> NDArray[np.bool_]:
        sun = self.altaz(self._kernel["sun"], self.unix)[0]
        if light == "any":
            return np.asarray(sun < -0.8333)
        moon, _, distance = self.altaz(self._kernel["moon"], self.unix)
        is_up = moon > -34 / 60 - np.degrees(np.arcsin(MOON_RADIUS_KM / distance))
        return np.asarray((sun < -18) & ~(is_up & (light == "moonless")))

    def _body(self, key: str) -> Any:
        point = target_of(key).points[0]
        if isinstance(point, FixedPoint):
            return Star(ra_hours=point.ra_degrees / 15, dec_degrees=point.dec_degrees)
        return self._kernel[f"{key.partition(':')[2]} barycenter"]


def ours(site: Site, evening: date, key: str) -> NightTarget:
    entry = TargetEntry(target=key, name=key)
    (found,) = night_targets([entry], site, None, evening, dark_level=-18).seen
    return found


@pytest.mark.parametrize(
    ("key", "light", "least", "site", "evening"),
    [
        pytest.param("milky-way:core", "moonless", 8.0, NORTH, JULY, id="core, 40 north"),
        pytest.param("milky-way:core", "moonless", 8.0, SOUTH, JULY, id="core, 30 south"),
        pytest.param("deep-sky:NGC0224", "moonless", 25.0, NORTH, NOVEMBER, id="M 31 to moonrise"),
        pytest.param("deep-sky:Mel022", "dark", 25.0, NORTH, NOVEMBER, id="Pleiades, any Moon"),
        pytest.param("planet:saturn", "any", 5.0, NORTH, JULY, id="Saturn until sunrise"),
        pytest.param("planet:jupiter", "any", 5.0, SOUTH, JULY, id="Jupiter from sunset"),
    ],
)
def test_hours_and_best_moment_of_a_night(
    *, key: str, light: str, least: float, site: Site, evening: date, kernel: Any
) -> None:
    found = ours(site, evening, key)
    noon = found.spans[0][0] // 86_400 * 86_400 + 11 * 3600
    seen = Seen(kernel, site, noon if noon < found.spans[0][0] else noon - 86_400)
    height, _ = seen.apparent(key, seen.unix)
    is_right = seen.is_lit(light) & (height >= least)

    assert found.light == light
    assert found.hours * 3600 == pytest.approx(is_right.sum() * STEP, abs=2 * STEP)
    assert found.spans[0][0] == pytest.approx(seen.unix[is_right][0], abs=STEP)
    assert found.spans[-1][1] == pytest.approx(seen.unix[is_right][-1], abs=STEP)
    assert found.best.standing.altitude_degrees == pytest.approx(height[is_right].max(), abs=0.05)

    there, azimuth = seen.apparent(key, np.array([found.best.at]))
    assert found.best.standing.altitude_degrees == pytest.approx(there[0], abs=0.001)
    apart = (found.best.standing.azimuth_degrees - azimuth[0] + 180) % 360 - 180
    assert apart * np.cos(np.radians(there[0])) == pytest.approx(0, abs=0.003)
    assert there[0] >= height[is_right].max() - 1e-4


def test_a_target_culminates_on_the_meridian(kernel: Any) -> None:
    found = ours(NORTH, JULY, "milky-way:core")
    assert found.culminates is not None
    seen = Seen(kernel, NORTH, found.culminates)
    _, azimuth = seen.apparent("milky-way:core", np.array([found.culminates]))
    assert azimuth[0] == pytest.approx(180.0, abs=0.01)
    assert found.best.at == pytest.approx(found.culminates, abs=1)


def test_airmass_is_that_of_kasten_and_young() -> None:
    """Applied Optics 28 (1989) 4735: 1/(sin h + 0.50572 (h + 6.07995)^−1.6364), h in degrees."""
    best = ours(NORTH, JULY, "milky-way:core").best
    h = best.standing.altitude_degrees
    assert best.airmass == pytest.approx(
        1 / (np.sin(np.radians(h)) + 0.50572 * (h + 6.07995) ** -1.6364), rel=1e-9
    )
