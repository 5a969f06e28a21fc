"""Ways to a target from bright stars, and how a picture of the whole sky is held, in words.

A fist at arm's length is held up to the sky beside the star: aside is counted on the sky itself,
not along the horizon. Which stars point is a rule of our own, with no published source: the nearest
bright one; and two in a row that lead there, or else a second one from another side.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import permutations

import numpy as np
from django.utils.translation import gettext as _
from numpy.typing import NDArray

from sky.camera.frame import vectors
from sky.camera.sketch import Landmark
from sky.constants import DEGREE
from sky.dome import NamedStanding, Standing, WantedStanding, WholeSky
from sky.finding import Pointer
from trips.almanac.fists import FIST_DEGREES, LEAST_FISTS, fists, halves, turned

Floats = NDArray[np.float64]

# Of the first magnitude, and the pole star.
FAINTEST_POINTER, POLE_STAR = 1.4, "Polaris"
# A star nearer stands in the way, one farther is not in the same look; near the zenith there is no
# left and no right.
NEAREST_DEGREES, FARTHEST_DEGREES, STEEPEST_DEGREES = 6.0, 35.0, 75.0
# Two in a row: how far they are apart, how far on it goes, by how much they may miss it.
LEAST_ROW_DEGREES, MOST_ROW_DEGREES = 8.0, 50.0
MOST_ON_DEGREES, MOST_MISS_DEGREES = 50.0, 7.0
# Without a row a second star, from a side so far from the first one’s, no farther off than this.
APART_DEGREES, SECOND_DEGREES = 60.0, 50.0
# A landmark so near to the south stands for it.
SOUTH_DEGREES, NEAR_SOUTH_DEGREES = 180.0, 11.25


@dataclass(frozen=True, slots=True)
class _Star:
    named: NamedStanding
    toward: Floats  # unit vector
    away: float  # degrees from the target


def pointers_in(sky: WholeSky, wanted: WantedStanding) -> tuple[Pointer, ...]:
    """Give up to two ways to a target: none to the Moon or an arch, which find themselves."""
    target = wanted.standings[0]
    if wanted.is_arch or not target.is_up or target == sky.moon:
        return ()
    stars = sorted(_stars(sky, target), key=lambda star: star.away)
    single = next((star for star in stars if _is_beside(star, target, FARTHEST_DEGREES)), None)
    others = [star for star in stars if star is not single]
    found = [(single,)] if single else []
    second = _row(others, target) or _from_another_side(others, single, target)
    return tuple(
        Pointer(tuple(star.named for star in way), target) for way in (*found, second) if way
    )


def pointer_words(pointer: Pointer) -> str:
    """Give "From Antares: one and a half fists left, half a fist down." or "From Deneb past Altair,
    two fists on."."""
    first, last = pointer.stars[0], pointer.stars[-1]
    if len(pointer.stars) > 1:
        on = _apart(last.standing, pointer.toward) / FIST_DEGREES
        words = _("From %(first)s past %(last)s, %(on)s on.")
        return words % {"first": first.name, "last": last.name, "on": fists(halves(on))}
    words = _("From %(star)s: %(way)s.")
    return words % {"star": first.name, "way": ", ".join(_way(first.standing, pointer.toward))}


def how_to_hold(landmarks: Iterable[Landmark]) -> str:
    """Say where the picture's S goes: to a landmark that stands there and is seen at night."""
    near = [
        (abs(turned(one.azimuth_degrees - SOUTH_DEGREES)), one.name)
        for one in landmarks
        if abs(turned(one.azimuth_degrees - SOUTH_DEGREES)) <= NEAR_SOUTH_DEGREES
    ]
    if not near:
        return _("Hold it overhead, S toward south.")
    return _("Hold it overhead, S toward %(landmark)s.") % {"landmark": min(near)[1]}


def _stars(sky: WholeSky, target: Standing) -> Iterator[_Star]:
    pole = (star for star in sky.stars.named(sky.faintest) if star.name == POLE_STAR)
    for named in (*sky.stars.named(min(FAINTEST_POINTER, sky.faintest)), *pole):
        away = _apart(named.standing, target)
        if away >= NEAREST_DEGREES and sky.is_open(named.standing):
            yield _Star(named, _vector(named.standing), away)


def _is_beside(star: _Star, target: Standing, farthest: float) -> bool:
    highest = max(star.named.standing.altitude_degrees, target.altitude_degrees)
    return star.away <= farthest and highest <= STEEPEST_DEGREES


def _row(stars: Iterable[_Star], target: Standing) -> tuple[_Star, ...]:
    """Give the two whose line, carried on, comes nearest to the target."""
    toward = _vector(target)
    near = [star for star in stars if star.away <= MOST_ON_DEGREES + MOST_ROW_DEGREES]
    rows = [
        (miss, way)
        for way in permutations(near, 2)
        if (miss := _miss(*way, toward)) <= MOST_MISS_DEGREES
    ]
    return min(rows, key=lambda each: each[0] + each[1][1].away / FIST_DEGREES)[1] if rows else ()


def _miss(first: _Star, last: _Star, toward: Floats) -> float:
    """Give by how many degrees the line of two stars misses a place; all of them where it does not
    lead there."""
    apart = _degrees(first.toward, last.toward)
    if not (LEAST_ROW_DEGREES <= apart <= MOST_ROW_DEGREES and last.away <= MOST_ON_DEGREES):
        return 360.0
    normal = np.cross(first.toward, last.toward)
    normal = normal / np.linalg.norm(normal)
    if float(np.cross(last.toward, toward) @ normal) <= 0:
        return 360.0
    return abs(math.asin(min(max(float(normal @ toward), -1.0), 1.0))) / DEGREE


def _from_another_side(
    stars: Iterable[_Star], single: _Star | None, target: Standing
) -> tuple[_Star, ...]:
    if single is None:
        return ()
    side = _side(single.named.standing, target)
    for star in stars:
        turn = abs(turned(_side(star.named.standing, target) - side))
        if _is_beside(star, target, SECOND_DEGREES) and turn >= APART_DEGREES:
            return (star,)
    return ()


def _side(star: Standing, target: Standing) -> float:
    right, up = _offsets(star, target)
    return math.atan2(up, right) / DEGREE


def _way(star: Standing, target: Standing) -> Iterator[str]:
    right, up = (degrees / FIST_DEGREES for degrees in _offsets(star, target))
    if abs(right) >= LEAST_FISTS:
        aside = {"fists": fists(halves(abs(right)))}
        yield (_("%(fists)s right") if right > 0 else _("%(fists)s left")) % aside
    if abs(up) >= LEAST_FISTS:
        rise = {"fists": fists(halves(abs(up)))}
        yield (_("%(fists)s up") if up > 0 else _("%(fists)s down")) % rise


def _offsets(star: Standing, target: Standing) -> tuple[float, float]:
    """Give the degrees to the right and up, as one sees them who faces them."""
    middle = (star.altitude_degrees + target.altitude_degrees) / 2
    turn = turned(target.azimuth_degrees - star.azimuth_degrees)
    return turn * math.cos(middle * DEGREE), target.altitude_degrees - star.altitude_degrees


def _apart(one: Standing, other: Standing) -> float:
    return _degrees(_vector(one), _vector(other))


def _vector(one: Standing) -> Floats:
    return vectors(one.altitude_degrees, one.azimuth_degrees)


def _degrees(one: Floats, other: Floats) -> float:
    return math.acos(min(max(float(one @ other), -1.0), 1.0)) / DEGREE
