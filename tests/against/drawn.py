"""What random cases are drawn from: places, stars, bodies, skylines, years."""

from __future__ import annotations

import numpy as np

from sky.place import Place
from sky.skyline import LEVEL, Skyline, skyline_of
from sky.targets.target import FixedPoint

# Without a leap second: over one, Astropy's Unix seconds are stretched for a day.
YEARS = (1980, 2000, 2003, 2027, 2028, 2049)
BODIES = ("moon", "venus", "jupiter", "mars", "mercury", "saturn")
ZONES = ("UTC", "Etc/GMT+12", "Etc/GMT-12", "Europe/Madrid", "Pacific/Auckland")


def any_skyline(rng: np.random.Generator, number: int) -> Skyline:
    """Give a rough ridge, a ridge with spikes, a canyon, nothing, or one point, in turn."""
    sort, count = number % 5, int(rng.integers(2, 60))
    around = np.sort(rng.uniform(0, 360, count)).round(3)
    ridge = dict(zip(around.tolist(), rng.uniform(-1, 25, count).tolist(), strict=True))
    if sort == 1:
        for foot in rng.uniform(1, 359, 6).round(3):
            ridge |= {foot: 3.0, foot + 0.05: float(rng.uniform(20, 60)), foot + 0.1: 3.0}
    if sort == 2:
        wall, gap = float(rng.uniform(45, 75)), float(rng.uniform(10, 330))
        ridge = {0.0: wall, gap: wall, gap + 4: 2.0, gap + 12: 5.0, gap + 13: wall}
    if sort == 3:
        return LEVEL
    return skyline_of(list(ridge.items())[:1] if sort == 4 else list(ridge.items()))


def any_place(rng: np.random.Generator, number: int) -> tuple[Place, Place]:
    """Give a site anywhere, with a zone that need not fit its longitude, and a spot 3 km off."""
    latitude = (
        (0.0, 78.2, -77.8, 89.0)[number // 4 % 4] if number % 4 == 0 else rng.uniform(-66, 66)
    )
    longitude, zone = float(rng.uniform(-180, 180)), ZONES[number % len(ZONES)]
    height = float(rng.choice([0.0, 1600.0, 5600.0]))
    site = Place(float(latitude), longitude, height, zone)
    return site, Place(float(latitude) - 0.03, longitude, height + 250, zone)


def any_star(rng: np.random.Generator) -> FixedPoint:
    """Give a place among the stars, one in six beside a pole."""
    if rng.uniform() < 1 / 6:
        dec = float(rng.choice([-1, 1]) * rng.uniform(89, 89.99))
    else:
        dec = float(np.degrees(np.arcsin(rng.uniform(-1, 1))))
    return FixedPoint(float(rng.uniform(0, 360)), dec)
