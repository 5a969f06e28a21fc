"""Spots as sky's values, and in which direction a landmark stands from one."""

from __future__ import annotations

from sky.bearings import Bearing, bearing_between
from sky.place import Place
from sky.skyline import Skyline
from trips.almanac.skylines import skyline_of
from trips.models import Spot

__all__ = ["Bearing", "bearing_from", "km_from_site", "place_of_spot", "skyline_of_spot"]


def place_of_spot(spot: Spot) -> Place:
    """Give the spot's place, which keeps its site's clock. Errors: see Place."""
    return Place(spot.latitude, spot.longitude, spot.elevation_m, spot.site.zone)


def skyline_of_spot(spot: Spot) -> Skyline:
    """Give the stored skyline; level where nobody measured. Errors: those of `skyline_of`."""
    return skyline_of([(azimuth, altitude) for azimuth, altitude in spot.skyline])


def bearing_from(spot: Spot, latitude: float, longitude: float) -> Bearing:
    """Give direction and distance of a position, as high as the spot. Errors: see Place."""
    return bearing_between(place_of_spot(spot), Place(latitude, longitude, spot.elevation_m))


def km_from_site(spot: Spot) -> float:
    return bearing_from(spot, spot.site.latitude, spot.site.longitude).distance_m / 1000
