"""The sky of a finder strip: the Milky Way, the curve of its arch, and stars."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from sky.finding import Finding
from trips.charts.band_patches import patches
from trips.charts.name_places import uncovered
from trips.charts.name_room import Box
from trips.charts.panorama import Panorama, smoothed_line
from trips.charts.star_dots import Dots, star_dots

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

FAINTEST, FAINTEST_OF_ARCH = 3.6, 3.0
# Lines are moved by less than so many units.
UNSEEN = 1.5
# The band is drawn no further aside than this beyond the picture, and no higher.
BAND_ASIDE_DEGREES, FARTHEST_ASIDE_DEGREES, BAND_HIGH_DEGREES = 25.0, 150.0, 80.0


def band(found: Finding, plan: Panorama) -> tuple[str, str]:
    """Give the Milky Way in two tones, as far as light leaves it."""
    sky, band = found.sky, found.sky.milky_way
    if not sky.has_band:
        return "", ""
    return _tone(band.faint, plan), "" if sky.is_moonlit else _tone(band.bright, plan)


def _tone(edges: tuple[Floats, Floats], plan: Panorama) -> str:
    """Give what lies between two closed lines, where both are near the picture."""
    near = [_is_near(edge, plan) for edge in edges]
    south, north = (_on_plan(edge, plan) for edge in edges)
    return patches(south, north, near[0] & near[1], _smooth)


def _is_near(line: Floats, plan: Panorama) -> Bools:
    """Tell what is near the picture and not so high that azimuths part."""
    altitudes, azimuths = line.T
    aside = np.abs((azimuths - plan.first - plan.span / 2 + 180) % 360 - 180)
    result: Bools = (
        (altitudes > -BAND_ASIDE_DEGREES)
        & (altitudes < BAND_HIGH_DEGREES)
        & (aside < min(plan.span / 2 + BAND_ASIDE_DEGREES, FARTHEST_ASIDE_DEGREES))
    )
    return result


def _on_plan(line: Floats, plan: Panorama) -> Floats:
    beyond = (360 - plan.span) / 2
    across = (line[:, 1] - plan.first + beyond) % 360 - beyond
    scale = plan.width / plan.span
    return np.stack((across * scale, (plan.high - line[:, 0]) * scale), axis=-1)


def whole(points: Floats) -> str:
    return "L".join(f"{x} {y}" for x, y in np.rint(points).astype(np.int64).tolist())


def _smooth(line: Floats) -> str:
    return whole(smoothed_line(line, UNSEEN))


def curve(found: Finding, plan: Panorama) -> str:
    """Draw the line of an arch."""
    if not found.target.is_arch:
        return ""
    line = found.sky.milky_way.equator
    cuts = np.flatnonzero(np.diff(_is_near(line, plan).astype(np.int8))) + 1
    pieces = (piece for piece in np.split(line, cuts) if _is_near(piece, plan)[0])
    return "".join(f"M{_smooth(_on_plan(piece, plan))}" for piece in pieces)


def dots(found: Finding, plan: Panorama, labels: Sequence[Box]) -> Iterator[Dots]:
    """Give the stars that the land, the light and the labels leave."""
    stars, sky = found.sky.stars, found.sky
    faintest = min(FAINTEST_OF_ARCH if found.target.is_arch else FAINTEST, sky.faintest)
    count = int(np.searchsorted(stars.magnitudes, faintest, side="right"))
    altitudes, azimuths = stars.altitudes[:count], stars.azimuths[:count]
    places = _on_plan(np.stack((altitudes, azimuths), axis=-1), plan)
    x, y = places.T
    shown = (x > 0) & (x < plan.width) & (y > 0) & (altitudes > sky.skyline.at(azimuths))
    units = np.rint(places).astype(np.int64)
    shown &= uncovered(units, labels)
    return star_dots(units[shown], stars.magnitudes[:count][shown])
