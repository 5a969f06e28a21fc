"""Moon, planets and bright stars of the ecliptic that stand close together on the sky."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from itertools import combinations

import numpy as np
from scipy.interpolate import CubicSpline

from sky.apparent import directions_toward, places_of_date, unit_vectors
from sky.clock import FIRST_DAY, LAST_DAY, check_season
from sky.constants import DEGREE
from sky.directions import Directions
from sky.ephemeris import Floats, frames_between, nodes_between, utc_from_tt
from sky.place import Place
from sky.spans import Span, Spans
from sky.targets.target import Body, FixedPoint

# Bright stars that Moon and planets pass. ICRS at J2000.0, Hipparcos (ESA SP-1200; from memory, and
# as PyEphem has them). Their own motion, 0.25″ a year at most, is left out.
STARS = {
    "alcyone": FixedPoint(56.87115, 24.10514),  # of the Pleiades
    "aldebaran": FixedPoint(68.98016, 16.50930),
    "regulus": FixedPoint(152.09296, 11.96721),
    "spica": FixedPoint(201.29825, -11.16132),
    "antares": FixedPoint(247.35192, -26.43200),
}
PLANETS = ("mercury", "venus", "mars", "jupiter", "saturn")
# In the order in which a pair is named.
MEMBERS = ("moon", *PLANETS, *STARS)
PAIRS = tuple(pair for pair in combinations(MEMBERS, 2) if pair[0] not in STARS)

# Close enough for one frame of a short telephoto lens: common practice, no published source.
LIMIT_DEGREES = 3.0
# The Moon passes all of them every month, and from a place a degree nearer or farther.
MOON_LIMIT_DEGREES = 5.0

Pair = tuple[str, str]
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class CloseApproach:
    """The moment at which two of them stand nearest to each other, from the Earth's centre.

    `separation_degrees` of the centres, apparent; `elongation_degrees` how far from the Sun they
    are, 0 to 180: below some 15° nothing is seen.
    """

    pair: Pair
    instant: datetime
    separation_degrees: float
    elongation_degrees: float


def limit_of(pair: Pair) -> float:
    """Give the usual limit in degrees below which a pair is close."""
    return MOON_LIMIT_DEGREES if "moon" in pair else LIMIT_DEGREES


def point_of(member: str) -> FixedPoint | Body:
    return STARS[member] if member in STARS else Body(member)


def close_approaches(
    first: date,
    last: date,
    *,
    limit_degrees: float = LIMIT_DEGREES,
    moon_limit_degrees: float = MOON_LIMIT_DEGREES,
) -> tuple[CloseApproach, ...]:
    """Give every least separation below the limits on a UTC date from `first` to `last`, in order.

    Geocentric and apparent, of all of PAIRS; `moon_limit_degrees` for those with the Moon. A planet
    that turns back beside a star passes it up to three times. Errors: `season_reversed`,
    `season_outside`.
    """
    check_season(first, last)
    years = _years_that_reach(first, last)
    found = (
        one
        for year in years
        for one in _of_year(year, limit_degrees, moon_limit_degrees)
        # Beyond the outermost years their own tables are used, between two years each its own.
        if min(max(one.instant.year, years[0]), years[-1]) == year
    )
    return tuple(one for one in found if first <= one.instant.date() <= last)


def _years_that_reach(first: date, last: date) -> range:
    """Give the fewest years whose tables hold the dates, each with a day on either side.

    Planets take a while to be tabulated, and the nights of a year end on the next New Year's Day.
    """
    begin = min(first + ONE_DAY, last)
    return range(begin.year, max(begin, last - ONE_DAY).year + 1)


@lru_cache(maxsize=128)
def _of_year(year: int, limit: float, moon_limit: float) -> tuple[CloseApproach, ...]:
    tracks = _tracks(date(year, 1, 1), date(year, 12, 31))
    found = [
        one
        for pair in PAIRS
        for one in _approaches(tracks, pair, moon_limit if "moon" in pair else limit)
    ]
    return tuple(sorted(found, key=lambda one: one.instant))


def spans_below(pair: Pair, first: date, last: date, limit_degrees: float) -> Spans:
    """Give when a pair is closer than a limit, between 0 h UTC of `first` and 24 h of `last`.

    A span that reaches beyond either end is cut within three days of it. Dates beyond the years
    that can be computed are drawn into them.
    """
    begin = min(max(first, FIRST_DAY), LAST_DAY)
    tracks = _tracks(begin, max(begin, min(last, LAST_DAY)))
    curve = tracks.chords(pair)
    level = chord_of(limit_degrees) ** 2
    if curve(tracks.tt).min() > level:
        return ()
    edges = np.concatenate((tracks.tt[:1], curve.solve(level, extrapolate=False), tracks.tt[-1:]))
    middles = curve((edges[1:] + edges[:-1]) / 2)
    unix = utc_from_tt(edges).tolist()
    return tuple(
        Span.from_seconds(start, end)
        for start, end, middle in zip(unix[:-1], unix[1:], middles.tolist(), strict=True)
        if middle < level
    )


def separations_at(pair: Pair, place: Place, unix: Floats) -> Floats:
    """Give how far apart a pair is from a place, in degrees: shape as `unix`, Unix seconds.

    The Moon's parallax moves it by up to a degree against what the Earth's centre sees. Without
    refraction, which draws a pair near the horizon together by a few minutes of arc. Errors:
    `instant_outside`.
    """
    one, other = (directions_toward(point_of(each), place, unix) for each in pair)
    return separation_of(one, other)


def separation_of(one: Directions, other: Directions) -> Floats:
    """Give how far apart two directions are, without refraction, in degrees."""
    return angle_of(np.linalg.norm(_vectors(one) - _vectors(other), axis=1))


def chord_of(angle_degrees: float) -> float:
    return float(2 * np.sin(angle_degrees * DEGREE / 2))


def angle_of(chord: Floats) -> Floats:
    """Give the angles in degrees between unit vectors whose ends are so far apart."""
    result: Floats = 2 * np.arcsin(np.minimum(chord / 2, 1.0)) / DEGREE
    return result


@dataclass(frozen=True, slots=True)
class _Tracks:
    """Apparent unit vectors of date (instant, 3) of the members and the Sun; `tt` (instant,)."""

    tt: Floats
    toward: dict[str, Floats]

    def chords(self, pair: Pair) -> CubicSpline:
        """Spline the square of the distance between two unit vectors: smooth at its least, too."""
        apart = self.toward[pair[0]] - self.toward[pair[1]]
        return CubicSpline(self.tt, np.sum(apart * apart, axis=1))


@lru_cache(maxsize=4)
def _tracks(first: date, last: date) -> _Tracks:
    nodes = nodes_between(first, last, ("sun", "moon"))
    positions = dict(nodes.positions)
    for planet in PLANETS:
        positions |= nodes_between(first, last, (planet,)).positions
    stars = places_of_date(
        unit_vectors(tuple(STARS.values())), frames_between(first, last), nodes.tt
    )
    toward = {
        body: track / np.linalg.norm(track, axis=1, keepdims=True)
        for body, track in positions.items()
    }
    toward |= {star: stars[:, at] for at, star in enumerate(STARS)}
    return _Tracks(nodes.tt, toward)


def _approaches(tracks: _Tracks, pair: Pair, limit: float) -> list[CloseApproach]:
    curve = tracks.chords(pair)
    turns = curve.derivative().roots(extrapolate=False)
    lows = turns[(curve(turns) < chord_of(limit) ** 2) & (curve(turns, 2) > 0)]
    separations = angle_of(np.sqrt(curve(lows)))
    elongations = angle_of(np.sqrt(tracks.chords(("sun", pair[0]))(lows)))
    figures = (utc_from_tt(lows).tolist(), separations.tolist(), elongations.tolist())
    return [
        CloseApproach(pair, datetime.fromtimestamp(unix, UTC), separation, elongation)
        for unix, separation, elongation in zip(*figures, strict=True)
    ]


def _vectors(seen: Directions) -> Floats:
    altitude, azimuth = seen.altitude_geometric_degrees * DEGREE, seen.azimuth_degrees * DEGREE
    cos = np.cos(altitude)
    return np.stack((cos * np.sin(azimuth), cos * np.cos(azimuth), np.sin(altitude)), axis=1)
