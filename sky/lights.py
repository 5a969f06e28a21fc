"""In which light: spans of a season in which it is moonless, dark, twilight or moonlit enough."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from sky.altitude import moon_phase
from sky.clearing import clear_spans, sample
from sky.constants import CIVIL_DEGREES, NAUTICAL_DEGREES
from sky.directions import directions_at
from sky.ephemeris import tt_from_utc
from sky.errors import SkyError
from sky.night import DARK_LEVELS, SeasonTable
from sky.span_arrays import above, below, cut, intersect
from sky.targets.target import LIGHTS, Light

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Pair = tuple[float, float]

# A Moon that lights a foreground and leaves a sky: common practice, no published source.
MOONLIT_ALTITUDES_DEGREES = (10.0, 45.0)
MOONLIT_ILLUMINATED = (0.10, 0.70)
# Higher, it lights the ground from above; and its azimuth turns too fast for the samples.
HIGHEST_MOON_DEGREES = 60.0
MOON_SAMPLE_SECONDS, PHASE_SAMPLE_SECONDS = 1200.0, 21_600.0
TOLERANCE_SECONDS = 0.01


def light_spans(table: SeasonTable, index: int, light: Light, dark_level: int = -18) -> Floats:
    """Give when a place of a table has a light: (span, 2) Unix seconds, sorted, cut at noons.

    - `dark`: the Sun's centre below `dark_level`, one of DARK_LEVELS; `moonless`: dark, and the
      Moon down; `any`: always
    - `twilight`: the Sun between −6° and −12°
    - `usable`: the Sun below −6°. How much of that is usable dark goes with the direction, and is
      left to `usable_spans`
    - `moonlit`: the Sun below −12°, the Moon 10° to 45° high (apparent) and 10 % to 70 % lit

    No such light: no spans. Errors: `light_unknown`, `dark_level_unknown`.
    """
    if dark_level not in DARK_LEVELS:
        raise SkyError("dark_level_unknown", level=dark_level, known=DARK_LEVELS)
    if light not in LIGHTS:
        raise SkyError("light_unknown", light=light, known=LIGHTS)
    noons = table.noons[index]
    return cut(_spans(table, index, light, dark_level), noons)


def _spans(table: SeasonTable, index: int, light: Light, dark_level: int) -> Floats:
    noons = table.noons[index]
    start, end = float(noons[0]), float(noons[-1])
    if light == "any":
        return np.array([[start, end]])
    if light == "twilight":
        lit = above(table.sun[NAUTICAL_DEGREES], index, start, end)
        return intersect(lit, below(table.sun[CIVIL_DEGREES], index, start, end))
    if light == "usable":
        return below(table.sun[CIVIL_DEGREES], index, start, end)
    if light == "moonlit":
        return _moonlit(table, index, MOONLIT_ALTITUDES_DEGREES, MOONLIT_ILLUMINATED)
    dark = below(table.sun[float(dark_level)], index, start, end)
    if light == "dark":
        return dark
    return intersect(dark, below(table.moon, index, start, end))


def moonlit_spans(
    table: SeasonTable,
    index: int,
    *,
    altitudes: Pair = MOONLIT_ALTITUDES_DEGREES,
    illuminated: Pair = MOONLIT_ILLUMINATED,
) -> Floats:
    """Give `moonlit` of a Moon between two apparent altitudes (degrees) and two fractions lit.

    Shape and cuts as of `light_spans`. Errors: `moon_altitudes_outside` (0 to HIGHEST_MOON_DEGREES)
    and `moon_lit_outside` (0 to 1), the smaller first.
    """
    if not 0 <= altitudes[0] < altitudes[1] <= HIGHEST_MOON_DEGREES:
        raise SkyError(
            "moon_altitudes_outside",
            least=altitudes[0],
            most=altitudes[1],
            highest=HIGHEST_MOON_DEGREES,
        )
    if not 0 <= illuminated[0] < illuminated[1] <= 1:
        raise SkyError("moon_lit_outside", least=illuminated[0], most=illuminated[1])
    return cut(_moonlit(table, index, altitudes, illuminated), table.noons[index])


def _moonlit(table: SeasonTable, index: int, altitudes: Pair, illuminated: Pair) -> Floats:
    """Give when it is dim and the Moon neither too low nor too high, too thin nor too full."""
    start, end = float(table.noons[index][0]), float(table.noons[index][-1])
    place, (low, high) = table.places[index], altitudes

    def height(_row: Ints, unix: Floats) -> tuple[Floats, Floats]:
        altitude = directions_at("moon", place, unix).altitude_degrees
        return np.minimum(altitude - low, high - altitude), altitude

    grid = grid_between(start, end, MOON_SAMPLE_SECONDS)
    at_height = clear_spans(height, sample(height, grid), tolerance=TOLERANCE_SECONDS)
    dim = below(table.sun[NAUTICAL_DEGREES], index, start, end)
    return intersect(dim, intersect(_phase_as_wanted(table, start, end, illuminated), at_height))


def _phase_as_wanted(table: SeasonTable, start: float, end: float, wanted: Pair) -> Floats:
    last = table.first + timedelta(days=table.nights - 1)
    fraction, (thin, full) = moon_phase(table.first, last).illuminated, wanted

    def phase(_row: Ints, unix: Floats) -> tuple[Floats, Floats]:
        lit = fraction(tt_from_utc(unix))
        return np.minimum(lit - thin, full - lit), lit

    grid = grid_between(start, end, PHASE_SAMPLE_SECONDS)
    return clear_spans(phase, sample(phase, grid), tolerance=TOLERANCE_SECONDS)


def grid_between(start: float, end: float, step: float) -> Floats:
    """Give instants from start to end, both included, a step apart but for the last."""
    return np.append(np.arange(start, end, step), end)
