"""Nights in which the Moon lights a wall from the side, and then leaves it in the dark; or first.

From the side, a wall has relief; from in front it is flat. How far aside the Moon must stand, and
how long it must shine: common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from sky.altitude import moon_phase
from sky.clearing import clear_spans, sample
from sky.directions import directions_at
from sky.ephemeris import tt_from_utc
from sky.errors import SkyError
from sky.lights import (
    MOON_SAMPLE_SECONDS,
    MOONLIT_ALTITUDES_DEGREES,
    MOONLIT_ILLUMINATED,
    TOLERANCE_SECONDS,
    grid_between,
    moonlit_spans,
)
from sky.moving import moving_spans
from sky.night import SeasonTable
from sky.place import Place
from sky.skyline import Skyline
from sky.span_arrays import intersect
from sky.targets.target import Body

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Pair = tuple[float, float]

MOON = Body("moon")
ANGLES_DEGREES = (30.0, 80.0)
LEAST_LIT_SECONDS, LEAST_DARK_SECONDS = 900.0, 3600.0


@dataclass(frozen=True, slots=True)
class SideLight:
    """Which moonlight counts, each between two values, the smaller first.

    `angles` of the Moon's azimuth from the wall's normal and apparent `altitudes`, in degrees; the
    fraction `illuminated`.
    """

    angles: Pair = ANGLES_DEGREES
    altitudes: Pair = MOONLIT_ALTITUDES_DEGREES
    illuminated: Pair = MOONLIT_ILLUMINATED


USUAL_LIGHT = SideLight()


@dataclass(frozen=True, slots=True)
class LitAndDark:
    """A night with both: `night` its number in the season, spans as (start, end) in Unix seconds.

    In the middle of the lit span: `angle_degrees` between the Moon's azimuth and the wall's normal,
    `altitude_degrees` of the Moon (apparent), its `azimuth_degrees`, and the fraction `illuminated`
    (geocentric, 0 to 1). `is_from_left`: the light comes from the left of who faces the wall.
    """

    night: int
    lit: Pair
    dark: Pair
    angle_degrees: float
    altitude_degrees: float
    azimuth_degrees: float
    illuminated: float
    is_from_left: bool

    @property
    def is_lit_first(self) -> bool:
        return self.lit[0] < self.dark[0]


def side_lit_spans(
    table: SeasonTable,
    index: int,
    place: Place,
    skyline: Skyline,
    face_degrees: float,
    *,
    light: SideLight = USUAL_LIGHT,
) -> Floats:
    """Give when the Moon lights a wall from the side: (span, 2) Unix seconds, sorted, cut at noons.

    The light is that of `moonlit_spans` at the table's place number `index`; beside it the Moon
    stands above the skyline of `place`, and its azimuth between two angles (0 to 90) from
    `face_degrees`, the azimuth at a right angle to the wall, outward.
    Errors: `face_outside` (0 to 360), `side_angles_outside`, those of `moonlit_spans`.
    """
    angles = light.angles
    if not 0 <= face_degrees <= 360:
        raise SkyError("face_outside", face=face_degrees)
    if not 0 <= angles[0] < angles[1] <= 90:
        raise SkyError("side_angles_outside", least=angles[0], most=angles[1])
    moonlit = moonlit_spans(table, index, altitudes=light.altitudes, illuminated=light.illuminated)
    if not len(moonlit):
        return moonlit
    clear = intersect(moonlit, moving_spans(MOON, place, skyline, moonlit))
    return intersect(clear, _aside(place, face_degrees, angles, moonlit))


def _aside(place: Place, face: float, angles: Pair, within: Floats) -> Floats:
    """Give when the Moon's azimuth is neither too far from the normal nor too near to it.

    Below 45° the azimuth turns by 7° at most between two samples, below 60° by 10°.
    """
    least, most = angles

    def room(_row: Ints, unix: Floats) -> tuple[Floats, Floats]:
        azimuth = directions_at("moon", place, unix).azimuth_degrees
        angle = np.abs(from_normal(azimuth, face))
        return np.minimum(angle - least, most - angle), azimuth

    grid = grid_between(float(within[0, 0]), float(within[-1, 1]), MOON_SAMPLE_SECONDS)
    return clear_spans(room, sample(room, grid), tolerance=TOLERANCE_SECONDS)


def from_normal(azimuth_degrees: Floats, face_degrees: float) -> Floats:
    """Give by how much an azimuth is clockwise of the wall's normal, −180 to 180 degrees."""
    turned: Floats = (azimuth_degrees - face_degrees + 180.0) % 360.0 - 180.0
    return turned


def lit_and_dark(
    table: SeasonTable, index: int, place: Place, face_degrees: float, *, lit: Floats, dark: Floats
) -> list[LitAndDark]:
    """Give the nights that have a lit span and a dark one, one after the other, in their order.

    `lit` as `side_lit_spans` gives it and `dark` when a target stands right without the Moon, both
    (span, 2) Unix seconds, sorted, and cut to the hours that count. A lit span is at least
    LEAST_LIT_SECONDS long and a dark one LEAST_DARK_SECONDS. Of a night counts the longest dark
    span, the earliest on a tie, that has a lit one before it, with the last such; and likewise the
    longest that has a lit one after it, with the first such.
    """
    noons = table.noons[index]
    pairs = list(
        _pairs(_lasting(lit, LEAST_LIT_SECONDS), _lasting(dark, LEAST_DARK_SECONDS), noons)
    )
    if not pairs:
        return []
    middles = np.array([(start + end) / 2 for _, (start, end), _ in pairs])
    seen = directions_at("moon", place, middles)
    turned = from_normal(seen.azimuth_degrees, face_degrees)
    last = table.first + timedelta(days=table.nights - 1)
    fraction = moon_phase(table.first, last).illuminated(tt_from_utc(middles))
    return [
        LitAndDark(
            night=night,
            lit=its_light,
            dark=its_dark,
            angle_degrees=abs(float(turned[number])),
            altitude_degrees=float(seen.altitude_degrees[number]),
            azimuth_degrees=float(seen.azimuth_degrees[number]),
            illuminated=float(fraction[number]),
            # Who faces the wall looks against its normal, and has the clockwise side on the left.
            is_from_left=bool(turned[number] > 0),
        )
        for number, (night, its_light, its_dark) in enumerate(pairs)
    ]


def _lasting(spans: Floats, seconds: float) -> Floats:
    lasting: Floats = spans[spans[:, 1] - spans[:, 0] >= seconds]
    return lasting


def _pairs(lit: Floats, dark: Floats, noons: Floats) -> Iterator[tuple[int, Pair, Pair]]:
    """Give night, lit span and dark span of each pair: of one night, the one lit first before."""
    of_lit, of_dark = (np.searchsorted(noons, each[:, 0], side="right") - 1 for each in (lit, dark))
    for night in np.intersect1d(of_lit, of_dark).tolist():
        lits, darks = _tuples(lit[of_lit == night]), _tuples(dark[of_dark == night])
        before = [(one, [each for each in lits if each[1] <= one[0]]) for one in darks]
        after = [(one, [each for each in lits if each[0] >= one[1]]) for one in darks]
        for found, nearest in ((before, -1), (after, 0)):
            both = [(one, those[nearest]) for one, those in found if those]
            if both:
                one, other = max(both, key=lambda pair: pair[0][1] - pair[0][0])
                yield night, other, one


def _tuples(spans: Floats) -> list[Pair]:
    return [(start, end) for start, end in spans.tolist()]
