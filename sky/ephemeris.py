"""The only module that opens a file: where Sun, Moon and planets stand, tabulated once per year.

Apparent geocentric positions from JPL DE421 through Skyfield on nodes every three hours, in the
true equator of date, with sidereal time beside them. A year's nodes are kept on disk; grids finer
than that are splines of them. Between nodes the spline is good to 0.01″.
"""

from __future__ import annotations

import os
import tempfile
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import lru_cache
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline
from skyfield.api import load, load_file, wgs84
from skyfield.framelib import ecliptic_frame
from skyfield.magnitudelib import planetary_magnitude
from skyfield.timelib import Time, Timescale

from sky import ENGINE_VERSION
from sky.constants import SECONDS_PER_DAY, SPEED_OF_LIGHT_KM_S
from sky.errors import SkyError

Floats = NDArray[np.float64]

KERNEL = "de421"
BODIES = {
    "sun": "sun",
    "moon": "moon",
    "mercury": "mercury",
    "venus": "venus",
    "mars": "mars",
    "jupiter": "jupiter barycenter",
    "saturn": "saturn barycenter",
}
NODE_SECONDS = 10_800
# Each year's table reaches this far into its neighbours, so that a season rarely needs two more.
PAD_DAYS = 4

# 2000-01-01 12:00 TT, from which all TT seconds count, as a Julian date and as Unix seconds.
J2000_JD = 2_451_545.0
J2000_UNIX = 946_728_000.0
TT_MINUS_TAI = 32.184


@dataclass(frozen=True, slots=True, eq=False)  # one table is itself, and can be a key
class Nodes:
    """What is known of some bodies at evenly spaced instants.

    `tt` (node,) seconds of TT since J2000; `sidereal` (node,) apparent sidereal time at Greenwich
    in radians, unwrapped; `positions` body → (node, 3) km, apparent, true equator of date, with
    the geometric distance; `longitudes` body → (node,) apparent ecliptic longitude of date in
    radians, unwrapped.
    """

    tt: Floats
    sidereal: Floats
    positions: dict[str, Floats]
    longitudes: dict[str, Floats]


@dataclass(frozen=True, slots=True)
class Apparent:
    """An apparent geocentric place, true equator and ecliptic of date, and the true distance."""

    right_ascension_degrees: float
    declination_degrees: float
    ecliptic_longitude_degrees: float
    ecliptic_latitude_degrees: float
    distance_km: float


@dataclass(frozen=True, slots=True)
class Frames:
    """What turns places among the stars into apparent places of date, at evenly spaced instants.

    `tt` (frame,) seconds of TT since J2000; `equator` (frame, 3, 3) turns ICRS vectors into the
    true equator of date (bias, precession, nutation: IAU 2006/2000A as Skyfield has them);
    `velocity` (frame, 3) the Earth's barycentric velocity in units of the speed of light, ICRS.
    """

    tt: Floats
    equator: Floats
    velocity: Floats


@lru_cache(maxsize=1)
def timescale() -> Timescale:
    """Give Skyfield's built-in timescale: leap seconds, UT1 and ΔT without a download."""
    return load.timescale(builtin=True)


def utc_from_tt(tt: Floats) -> Floats:
    """Turn seconds of TT since J2000 into Unix seconds; valid from 1972."""
    stamps, offsets = _leap_seconds()
    tai_unix = tt + (J2000_UNIX - TT_MINUS_TAI)
    steps = np.searchsorted(stamps + offsets, tai_unix, side="right")
    result: Floats = tai_unix - np.concatenate(([10.0], offsets))[steps]
    return result


def tt_from_utc(unix: Floats) -> Floats:
    """Turn Unix seconds into seconds of TT since J2000; valid from 1972."""
    stamps, offsets = _leap_seconds()
    steps = np.searchsorted(stamps, unix, side="right")
    result: Floats = unix + np.concatenate(([10.0], offsets))[steps] - (J2000_UNIX - TT_MINUS_TAI)
    return result


@lru_cache(maxsize=1)
def _leap_seconds() -> tuple[Floats, Floats]:
    """Give the Unix times from which TAI − UTC has a new value, and those values in seconds."""
    scale = timescale()
    dates = np.asarray(scale.leap_dates, dtype=np.float64)
    unix = (dates - 2_440_587.5) * SECONDS_PER_DAY
    return unix, np.asarray(scale.leap_offsets, dtype=np.float64)


@contextmanager
def _kernel() -> Iterator[Any]:
    """Open the kernel and close it again: an open one warns when the process ends."""
    with as_file(files("skyfield_data") / "data" / f"{KERNEL}.bsp") as path:
        kernel = load_file(str(path))
        try:
            yield kernel
        finally:
            kernel.close()


def apparent(body: str, tt_jd: float) -> Apparent:
    """Give the apparent place of a body at a Julian date of TT, straight from the kernel."""
    time = timescale().tt_jd(tt_jd)
    with _kernel() as kernel:
        place = kernel["earth"].at(time).observe(kernel[_name(body)]).apparent()
        distance = (kernel[_name(body)] - kernel["earth"]).at(time).distance().km
    ra, dec, _ = place.radec("date")
    latitude, longitude, _ = place.frame_latlon(ecliptic_frame)
    figures = (ra._degrees, dec.degrees, longitude.degrees, latitude.degrees, distance)
    return Apparent(*(float(figure) for figure in figures))


def altitude_azimuth(
    body: str, latitude: float, longitude: float, elevation_m: float, instant: datetime
) -> tuple[float, float]:
    """Give geometric altitude and azimuth of a body in degrees, straight from the kernel."""
    time = timescale().from_datetime(instant)
    with _kernel() as kernel:
        observer = kernel["earth"] + wgs84.latlon(latitude, longitude, elevation_m)
        altitude, azimuth, _ = observer.at(time).observe(kernel[_name(body)]).apparent().altaz()
    return float(altitude.degrees), float(azimuth.degrees)


@lru_cache(maxsize=64)
def planet_magnitudes(day: date) -> Mapping[str, float]:
    """Give the visual magnitudes of the planets of BODIES at 0 h UT of a day, seen from the Earth.

    Mallama A., Hilton J., Astronomy and Computing 25 (2018) 10, as Skyfield has it; which side Mars
    shows is left out (0.06). In half a day Mercury's moves by less than a tenth.
    """
    time = timescale().utc(day.year, day.month, day.day)
    with _kernel() as kernel:
        earth = kernel["earth"].at(time)
        return {
            body: float(planetary_magnitude(earth.observe(kernel[name])))
            for body, name in BODIES.items()
            if body not in ("sun", "moon")
        }


@lru_cache(maxsize=16)
def frames_between(first: date, last: date) -> Frames:
    """Give a frame a day from two days before `first` to three days after `last`."""
    years = [_year_frames(year) for year in range(first.year, last.year + 1)]
    start, end = _tt_of(first) - 2 * SECONDS_PER_DAY, _tt_of(last) + 3 * SECONDS_PER_DAY
    tt, which = np.unique(np.concatenate([year.tt for year in years]), return_index=True)
    inside = (tt >= start - SECONDS_PER_DAY) & (tt <= end + SECONDS_PER_DAY)
    chosen = which[inside]
    return Frames(
        tt[inside],
        np.concatenate([year.equator for year in years])[chosen],
        np.concatenate([year.velocity for year in years])[chosen],
    )


@lru_cache(maxsize=16)
def _year_frames(year: int) -> Frames:
    stored = cache_folder() / f"{year}-frames-{KERNEL}-{ENGINE_VERSION}.npz"
    arrays = _stored(stored, ("tt", "equator", "velocity"))
    if arrays is None:
        arrays = _computed_frames(year)
        _write(stored, arrays)
    return Frames(**arrays)


def _computed_frames(year: int) -> dict[str, Floats]:
    tt = _ticks(year, SECONDS_PER_DAY)
    time = timescale().tt_jd(J2000_JD + tt / SECONDS_PER_DAY)
    with _kernel() as kernel:
        velocity = kernel["earth"].at(time).velocity.km_per_s / SPEED_OF_LIGHT_KM_S
    return {
        "tt": tt,
        "equator": np.ascontiguousarray(np.moveaxis(time.M, -1, 0)),
        "velocity": np.ascontiguousarray(velocity.T),
    }


def nodes_between(first: date, last: date, bodies: tuple[str, ...]) -> Nodes:
    """Give the nodes from two days before `first` to three days after `last`."""
    years = [_year_nodes(year, bodies) for year in range(first.year, last.year + 1)]
    start, end = _tt_of(first) - 2 * SECONDS_PER_DAY, _tt_of(last) + 3 * SECONDS_PER_DAY
    return _joined(years, start, end)


@lru_cache(maxsize=16)
def _year_nodes(year: int, bodies: tuple[str, ...]) -> Nodes:
    stored = cache_folder() / f"{year}-{'-'.join(bodies)}-{KERNEL}-{ENGINE_VERSION}.npz"
    names = [f"{body}_{what}" for body in bodies for what in ("position", "longitude")]
    arrays = _stored(stored, ("tt", "sidereal", *names))
    if arrays is None:
        arrays = _computed(year, bodies)
        _write(stored, arrays)
    return Nodes(
        tt=arrays["tt"],
        sidereal=arrays["sidereal"],
        positions={body: arrays[f"{body}_position"] for body in bodies},
        longitudes={body: arrays[f"{body}_longitude"] for body in bodies},
    )


def cache_folder() -> Path:
    """Give the folder of stored tables: SKY_CACHE, else under the user's cache folder."""
    named = os.environ.get("SKY_CACHE")
    if named:
        return Path(named)
    home = os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    return Path(home) / "sky-ephemeris"


def _stored(path: Path, names: Sequence[str]) -> dict[str, Floats] | None:
    """Read a table; None where there is none, or none that can be used."""
    try:
        with np.load(path, allow_pickle=False) as stored:
            return {name: stored[name] for name in names}
    except (OSError, KeyError, ValueError, zipfile.BadZipFile):
        return None


def _write(path: Path, arrays: dict[str, Floats]) -> None:
    """Store a table under its name at once or not at all; a folder that refuses costs only time."""
    # The stubs take the names of arrays for options.
    named: dict[str, Any] = dict(arrays)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as unfinished:
            np.savez(unfinished, **named)
        Path(unfinished.name).replace(path)
    except OSError:
        return


def _ticks(year: int, step: float) -> Floats:
    """Give the multiples of a step in a year and a little beyond, in TT since J2000."""
    start = _tt_of(date(year, 1, 1)) - PAD_DAYS * SECONDS_PER_DAY
    end = _tt_of(date(year, 12, 31)) + (PAD_DAYS + 1) * SECONDS_PER_DAY
    ticks: Floats = np.arange(start // step, end // step + 1) * step
    return ticks


def _computed(year: int, bodies: tuple[str, ...]) -> dict[str, Floats]:
    tt = _ticks(year, NODE_SECONDS)
    time = timescale().tt_jd(J2000_JD + tt / SECONDS_PER_DAY)
    arrays = {"tt": tt, "sidereal": np.unwrap(np.asarray(time.gast) * (np.pi / 12))}
    with _kernel() as kernel:
        for body in bodies:
            position, longitude = _place(kernel, _name(body), time)
            arrays |= {f"{body}_position": position, f"{body}_longitude": longitude}
    return arrays


def _place(kernel: Mapping[str, Any], name: str, time: Time) -> tuple[Floats, Floats]:
    """Give apparent positions (node, 3) with the geometric distance, and ecliptic longitudes.

    Light-time against the Earth's own motion makes the astrometric distance of the Moon wrong by
    34 km in either direction, 0.3″ of parallax; an observer who moves along sees the geometric one.
    """
    place = kernel["earth"].at(time).observe(kernel[name]).apparent()
    distance = (kernel[name] - kernel["earth"]).at(time).distance().km
    direction = place.xyz.au / np.linalg.norm(place.xyz.au, axis=0)
    of_date = np.einsum("ijn,jn->in", time.M, direction)
    longitude = place.frame_latlon(ecliptic_frame)[1].radians
    return np.ascontiguousarray((of_date * distance).T), np.unwrap(longitude)


def _joined(years: list[Nodes], start: float, end: float) -> Nodes:
    """Cut the years' nodes to a stretch and put them end to end, each node once."""
    pieces: list[tuple[Nodes, NDArray[np.bool_]]] = []
    after = start - NODE_SECONDS
    for nodes in years:
        keep = (nodes.tt > after) & (nodes.tt <= end + NODE_SECONDS)
        pieces.append((nodes, keep))
        after = max(after, float(nodes.tt[keep][-1])) if keep.any() else after
    bodies = years[0].positions
    return Nodes(
        tt=np.concatenate([nodes.tt[keep] for nodes, keep in pieces]),
        sidereal=np.unwrap(np.concatenate([nodes.sidereal[keep] for nodes, keep in pieces])),
        positions={
            body: np.concatenate([nodes.positions[body][keep] for nodes, keep in pieces])
            for body in bodies
        },
        longitudes={
            body: np.unwrap(
                np.concatenate([nodes.longitudes[body][keep] for nodes, keep in pieces])
            )
            for body in bodies
        },
    )


def earth_fixed(nodes: Nodes, body: str, tt: Floats) -> tuple[Floats, Floats]:
    """Give a body in the Earth-fixed frame at the instants `tt`.

    Returns unit vectors (3, instant) toward the body, x to Greenwich and z to the north pole, and
    the distances (instant,) in km.
    """
    x, y, z = to_earth(of_date(nodes, body, tt), sidereal_at(nodes, tt)).T
    distance = np.sqrt(x * x + y * y + z * z)
    return np.stack((x, y, z)) / distance, distance


def of_date(nodes: Nodes, body: str, tt: Floats) -> Floats:
    """Give where a body is in the true equator of date: (instant, 3) km."""
    vectors: Floats = _position_spline(nodes, body)(tt)
    return vectors


def to_earth(vectors: Floats, sidereal: Floats) -> Floats:
    """Turn vectors (instant, 3) in the equator of date into the Earth-fixed frame."""
    cos, sin = np.cos(sidereal), np.sin(sidereal)
    x, y, z = vectors.T
    return np.stack((cos * x + sin * y, cos * y - sin * x, z), axis=-1)


@lru_cache(maxsize=64)
def _position_spline(nodes: Nodes, body: str) -> CubicSpline:
    return CubicSpline(nodes.tt, nodes.positions[body])


def sidereal_at(nodes: Nodes, tt: Floats) -> Floats:
    """Give apparent sidereal time at Greenwich in radians, unwrapped as in the nodes.

    Straight between nodes of three hours: its curvature is the nutation's, far below 1 ms.
    """
    result: Floats = np.interp(tt, nodes.tt, nodes.sidereal)
    return result


def tt_of_sidereal(nodes: Nodes, sidereal: Floats) -> Floats:
    """Give the instants (TT since J2000) of sidereal times; the inverse of `sidereal_at`."""
    result: Floats = np.interp(sidereal, nodes.sidereal, nodes.tt)
    return result


def _tt_of(day: date) -> float:
    """Give TT since J2000 of a day's start in UTC, to the minute: enough to choose nodes."""
    return datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp() - J2000_UNIX + 65.0


def _name(body: str) -> str:
    if body not in BODIES:
        raise SkyError("body_unknown", body=body, known=tuple(BODIES))
    return BODIES[body]
