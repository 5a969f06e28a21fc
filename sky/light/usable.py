"""Usable dark: when Moon and twilight brighten the sky toward something by little enough.

A physical measure beside the strict word moonless: a thin crescent at 3° does not cost an evening,
and twilight matters sooner where no lamp hides it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sky.clearing import clear_within
from sky.directions import Directions
from sky.errors import SkyError
from sky.light.brightness import LocalSky, bodies_at, sky_toward
from sky.lights import light_spans
from sky.night import SeasonTable
from sky.place import Place
from sky.span_arrays import NONE

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
# (number, Unix seconds) → where each thing of such a number stands.
Toward = Callable[[Ints, Floats], Directions]

# Common practice, no published source: a fifth of a magnitude is hardly seen in a picture.
LOSS_MAG = 0.2
LEAST_LOSS_MAG, MOST_LOSS_MAG = 0.05, 2.0
SAMPLE_SECONDS, TOLERANCE_SECONDS = 600.0, 5.0


@dataclass(frozen=True, slots=True)
class DarkEnough:
    """The sky over a site, and how many magnitudes Moon and twilight may take of it.

    Errors: `loss_outside` (0.05 to 2), those of LocalSky.
    """

    sky: LocalSky = field(default_factory=LocalSky)
    loss_mag: float = LOSS_MAG

    def __post_init__(self) -> None:
        if not LEAST_LOSS_MAG <= self.loss_mag <= MOST_LOSS_MAG:
            raise SkyError(
                "loss_outside", value=self.loss_mag, low=LEAST_LOSS_MAG, high=MOST_LOSS_MAG
            )


def usable_spans(
    toward: Toward, place: Place, within: Sequence[Floats], enough: DarkEnough
) -> list[Floats]:
    """Leave of each one's spans (span, 2; Unix seconds) those in which its sky is dark enough.

    `toward` says where each, by its number, stands at given instants. Compared is the sky with and
    without Moon and twilight, at the same instant in the same direction. Edges are good to 5 s of
    the model, which itself is good to minutes; what lasts less than ten minutes may be missed. The
    Moon lights a flat horizon's sky while it is up. None: no spans.
    Errors: `instant_outside`.
    """
    counts = [len(spans) for spans in within]
    owner = np.repeat(np.arange(len(within)), counts)

    def room(row: Ints, unix: Floats) -> tuple[Floats, Floats]:
        seen = toward(owner[row], unix)
        height, azimuth = seen.altitude_degrees, seen.azimuth_degrees
        light = sky_toward(enough.sky, height, azimuth, bodies_at(place, unix))
        return enough.loss_mag - light.loss_mag, azimuth

    spans = np.concatenate([*within, NONE])
    of, pieces = clear_within(room, spans, step=SAMPLE_SECONDS, tolerance=TOLERANCE_SECONDS)
    edges = np.searchsorted(of, np.cumsum([0, *counts]))
    return [pieces[first:last] for first, last in pairwise(edges)]


def usable_overhead(table: SeasonTable, index: int, enough: DarkEnough) -> Floats:
    """Give when the zenith of a table's place is dark enough, with the Sun 6° down at least.

    (span, 2) Unix seconds, sorted, cut at noons.
    """
    night = light_spans(table, index, "usable")
    return usable_spans(_zenith, table.places[index], [night], enough)[0]


def _zenith(_number: Ints, unix: Floats) -> Directions:
    up = np.full(len(unix), 90.0)
    return Directions(up, up, np.zeros(len(unix)))
