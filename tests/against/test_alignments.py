"""Every alignment of ten days against Astropy, asked every five minutes and splined between.

Referee: Astropy 8 with JPL DE421 and ERFA, its UT1 the one that our timescale has, the same
refraction laid on afterwards. Nothing missed, nothing invented; ordinary passages within 1 s.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from importlib.resources import as_file, files

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import (
    AltAz,
    EarthLocation,
    SkyCoord,
    get_body,
    solar_system_ephemeris,
)
from astropy.time import Time
from astropy.utils import iers
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from sky.aim import Aim
from sky.alignments import find_alignments
from sky.directions import refraction_degrees
from sky.ephemeris import timescale
from sky.nights import compute_season
from sky.place import Place
from sky.targets.kinds import target_of
from sky.targets.target import Light
from tests.against.published import row

Floats = NDArray[np.float64]

NIGHTS = 10
STEP = 2.0
CORE = "position:266.41667,-29.00778"
ANDROMEDA = "position:10.68471,41.26875"

MEADOW = Place(40.4, -1.1, 1600, "Europe/Madrid")
CASES: list[tuple[str, Place, date, str, Aim, Light]] = [
    ("core due south", MEADOW, date(2027, 6, 1), CORE, Aim(180.0), "dark"),
    ("core over a tower", MEADOW, date(2027, 6, 1), CORE, Aim(172.0, 19.5, 1.5, 0.8), "dark"),
    ("a star high up", MEADOW, date(2027, 10, 1), ANDROMEDA, Aim(74.0, 55.0, 2.0, 1.0), "any"),
    ("a star near the zenith", MEADOW, date(2027, 10, 1),
     ANDROMEDA, Aim(300.0, 84.0, 1.0, 2.0), "any"),
    ("circumpolar, twice", Place(57.2, -3.8, 400, "Europe/London"), date(2027, 1, 3),
     "position:165.93,61.75", Aim(20.0), "any"),
    ("grazing an elongation", Place(57.2, -3.8, 400, "Europe/London"), date(2027, 1, 3),
     "position:165.93,61.75", Aim(51.0, 53.0, 4.0, 3.0), "any"),
    ("beside the pole", Place(-77.8, 166.7, 10, "Antarctica/McMurdo"), date(2027, 6, 20),
     CORE, Aim(310.0, 38.0, 1.0, 2.0), "dark"),
    ("Arctic Moon", Place(69.6, 18.9, 0, "Europe/Oslo"), date(2027, 1, 10),
     "moon:moon", Aim(135.0), "any"),
    ("Moon over a ridge", Place(-44.0, 170.5, 700, "Pacific/Auckland"), date(2027, 3, 14),
     "moon:moon", Aim(325.0, 12.0, 6.0, 2.0), "any"),
    ("Venus rising at the equator", Place(0.1, -78.4, 2800, "America/Guayaquil"), date(2028, 2, 1),
     "planet:venus", Aim(93.0, 4.0, 2.0, 0.5), "any"),
    ("Saturn, wide zone", Place(39.5, 76.0, 1300, "Asia/Shanghai"), date(1999, 11, 5),
     "planet:saturn", Aim(240.0), "dark"),
    ("Jupiter on the date line", Place(1.9, -157.4, 3, "Pacific/Kiritimati"), date(2035, 11, 1),
     "planet:jupiter", Aim(75.0, 30.0, 3.0, 3.0), "dark"),
    ("setting on the horizon", MEADOW, date(2027, 8, 20), CORE, Aim(230.0, 1.0, 2.0, 0.5), "any"),
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Seen:
    """What the referee sees, every STEP seconds: Unix seconds, degrees."""

    unix: Floats
    altitude: Floats
    azimuth: Floats
    sun: Floats


@pytest.fixture(scope="module", autouse=True)
def _alone() -> Iterator[None]:
    """Let Astropy ask nobody: its tables end, and UT1 is given to it."""
    kernel = files("skyfield_data") / "data" / "de421.bsp"
    with (
        iers.conf.set_temp("auto_download", False),
        iers.conf.set_temp("iers_degraded_accuracy", "ignore"),
        as_file(kernel) as path,
        solar_system_ephemeris.set(str(path)),
    ):
        yield


def looked_at(place: Place, key: str, start: float, end: float) -> Seen:
    unix = np.arange(start - 3000, end + 3000, 300.0)
    time = Time(unix, format="unix")
    time.delta_ut1_utc = timescale().tt_jd(time.tt.jd).dut1
    here = EarthLocation.from_geodetic(place.longitude, place.latitude, place.elevation_m)
    frame = AltAz(obstime=time, location=here, pressure=0 * u.hPa)
    sun = get_body("sun", time, here).transform_to(frame).alt.deg
    kind, _, rest = key.partition(":")
    if kind == "position":
        ra, dec = (float(angle) * u.deg for angle in rest.split(","))
        seen = SkyCoord(ra, dec).transform_to(frame)
    else:
        seen = get_body(rest, time, here).transform_to(frame)
    vector = np.stack([getattr(seen.cartesian, axis).value for axis in "xyz"], axis=1)
    vector /= np.linalg.norm(vector, axis=1, keepdims=True)
    fine = np.arange(start, end, STEP)
    north, east, up = CubicSpline(unix, vector)(fine).T
    height = np.degrees(np.arctan2(up, np.hypot(north, east)))
    lifted = height + refraction_degrees(height, place.elevation_m)
    return Seen(
        fine, lifted, np.degrees(np.arctan2(east, north)) % 360, CubicSpline(unix, sun)(fine)
    )


def aside(seen: Seen, aim: Aim) -> Floats:
    result: Floats = (seen.azimuth - aim.azimuth_degrees + 180) % 360 - 180
    return result


def within(seen: Seen, aim: Aim, light: str) -> NDArray[np.bool_]:
    apart = aside(seen, aim)
    low, high = aim.altitudes
    on_the_sky = np.abs(apart) * np.cos(np.radians(seen.altitude))
    good = (on_the_sky <= aim.azimuth_tolerance_degrees) & (np.abs(apart) < 90)
    good &= (seen.altitude >= low) & (seen.altitude <= high)
    return good & (seen.sun < -18) if light == "dark" else good


def stretches(good: NDArray[np.bool_], unix: Floats) -> Floats:
    edges = np.flatnonzero(np.diff(np.concatenate(([False], good, [False])).astype(int)))
    pairs = edges.reshape(-1, 2)
    return np.stack((unix[pairs[:, 0]], unix[np.minimum(pairs[:, 1], len(unix)) - 1]), axis=1)


def passages(seen: Seen, aim: Aim, good: NDArray[np.bool_]) -> Floats:
    apart = aside(seen, aim)
    change = (apart[1:] > 0) != (apart[:-1] > 0)
    at = np.flatnonzero(change & (np.abs(apart[1:]) < 90) & good[1:] & good[:-1])
    share = apart[at] / (apart[at] - apart[at + 1])
    return seen.unix[at] + share * STEP


def closest(seen: Seen, aim: Aim, stretch: Floats) -> float:
    inside = (seen.unix >= stretch[0]) & (seen.unix <= stretch[1])
    height, wanted = np.radians(seen.altitude[inside]), np.radians(aim.altitude_degrees or 0)
    sideward = np.sin(np.radians(aside(seen, aim)[inside]) / 2) ** 2
    apart = np.sin((height - wanted) / 2) ** 2 + np.cos(height) * np.cos(wanted) * sideward
    return float(seen.unix[inside][np.argmin(apart)])


@pytest.mark.parametrize(
    ("place", "first", "key", "aim", "light"),
    [pytest.param(*rest, id=name) for name, *rest in CASES],
)
def test_nothing_is_missed_and_nothing_invented(
    place: Place, first: date, key: str, aim: Aim, light: Light
) -> None:
    table = compute_season([place], first, first + timedelta(days=NIGHTS - 1))
    start, end = (float(noon) for noon in table.noons[0][[0, -1]])
    ours = find_alignments(target_of(key), aim, table, light=light)
    seen = looked_at(place, key, start, end)
    good = within(seen, aim, light)
    spans = stretches(good, seen.unix)
    if aim.altitude_degrees is None:
        theirs = passages(seen, aim, good)
    else:
        theirs = np.array([closest(seen, aim, span) for span in spans])
    assert len(theirs) > 0
    assert ours.at == pytest.approx(theirs, abs=1.0 if aim.altitude_degrees is None else STEP)
    holding = np.searchsorted(spans[:, 0], theirs, side="right") - 1
    assert ours.start == pytest.approx(spans[holding, 0], abs=STEP)
    assert ours.end == pytest.approx(spans[holding, 1], abs=STEP)


def test_venus_stands_over_the_book_s_direction_at_the_book_s_instant() -> None:
    """A04: Meeus's example, to what 0.003° of his place allows of time."""
    case = row("directions", "A04")
    inputs, expected = case["inputs"], case["expected"]
    place = Place(inputs["latitude"], inputs["longitude"], inputs["elevation_m"])
    height = expected["altitude_degrees"]
    lifted = height + float(refraction_degrees(np.array([height]), place.elevation_m)[0])
    instant = datetime.fromisoformat(inputs["instant"])
    table = compute_season([place], instant.date(), instant.date())
    aim = Aim(expected["azimuth_degrees"], lifted, 0.1, 0.1)
    found = find_alignments(target_of("planet:venus"), aim, table, light="any")
    assert found.at == pytest.approx([instant.timestamp()], abs=2.0)
    assert found.altitude_geometric_degrees == pytest.approx(height, abs=case["tolerance"])
