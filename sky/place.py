"""A place on the Earth, checked once and trusted afterwards."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sky.clock import zone_of
from sky.errors import SkyError

# From the shore of the Dead Sea to above the highest summit.
LOWEST_ELEVATION_M, HIGHEST_ELEVATION_M = -450.0, 9000.0


@dataclass(frozen=True, slots=True)
class Place:
    """A geodetic position (WGS84) and the civil zone kept there.

    `latitude` −90 to 90°, north positive. `longitude` −180 to 360°, east positive, folded into
    [−180, 180). `elevation_m` metres above the ellipsoid, taken as metres above the sea (the
    difference, up to 100 m, moves no event by a second). `zone` an IANA name.

    Errors: `not_a_number`, `latitude_out_of_range`, `longitude_out_of_range`,
    `elevation_out_of_range`, `zone_unknown`.
    """

    latitude: float
    longitude: float
    elevation_m: float = 0.0
    zone: str = "UTC"

    def __post_init__(self) -> None:
        _check("latitude", self.latitude, -90.0, 90.0)
        _check("longitude", self.longitude, -180.0, 360.0)
        _check("elevation", self.elevation_m, LOWEST_ELEVATION_M, HIGHEST_ELEVATION_M)
        zone_of(self.zone)
        if self.longitude >= 180.0:  # only then: folding costs the last digits
            object.__setattr__(self, "longitude", self.longitude - 360.0)


def _check(name: str, value: float, low: float, high: float) -> None:
    if not math.isfinite(value):
        raise SkyError("not_a_number", field=name, value=value)
    if not low <= value <= high:
        raise SkyError(f"{name}_out_of_range", value=value, low=low, high=high)
