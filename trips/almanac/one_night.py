"""One night at a spot: what all its targets share."""

from __future__ import annotations

from datetime import date
from functools import cache

import numpy as np
from numpy.typing import NDArray

from sky.constants import SUN_RISE_SET_DEGREES
from sky.lights import light_spans
from sky.nights import compute_season
from sky.span_arrays import below, intersect
from sky.targets.target import Light
from trips.almanac.local_sky import dark_enough
from trips.almanac.places import place_of
from trips.almanac.windows import spot_place, spot_skyline
from trips.models import Site, Spot

Floats = NDArray[np.float64]


class OneNight:
    """A night seen from a spot, or from the site itself with a level horizon.

    `whole` its noons and `down` when the Sun is down, each (span, 2) Unix seconds; where the Sun
    does not set, all of it is called down. Errors: those of Place, `skyline_of` and
    `compute_season`.
    """

    def __init__(self, site: Site, spot: Spot | None, evening: date) -> None:
        self.date = evening
        self.place, self.skyline = spot_place(site, spot), spot_skyline(spot)
        self.table = compute_season([place_of(site)], evening, evening)
        start, end = (float(noon) for noon in self.table.noons[0])
        self.whole = np.array([[start, end]])
        down = below(self.table.sun[SUN_RISE_SET_DEGREES], 0, start, end)
        self.sun_sets = bool(len(down))
        self.down = down if self.sun_sets else self.whole
        self.enough = dark_enough(site)
        self.light = cache(self._light)

    def _light(self, light: Light, dark_level: int) -> Floats:
        return intersect(light_spans(self.table, 0, light, dark_level), self.down)
