"""Places drawn evenly over the sphere between 80° S and 80° N, each with a year of 1972–2050."""

from __future__ import annotations

import numpy as np

from sky.place import Place


def random_place_years(count: int, seed: int) -> list[tuple[Place, int]]:
    rng = np.random.default_rng(seed)
    edge = np.sin(np.radians(80))
    latitudes = np.degrees(np.arcsin(rng.uniform(-edge, edge, count)))
    longitudes, heights = rng.uniform(-180, 180, count), rng.uniform(0, 4000, count)
    years = rng.integers(1972, 2051, count)
    drawn = zip(latitudes, longitudes, heights, years, strict=True)
    return [(Place(float(a), float(b), float(c)), int(year)) for a, b, c, year in drawn]
