"""Positions of sites: as sky's values, their zone, and in plain words."""

from __future__ import annotations

from typing import Protocol

from django.utils.translation import gettext as _

from sky.place import Place
from sky.zones import zone_at, zone_misfit

__all__ = [
    "Place",
    "Positioned",
    "describe_position",
    "geo_of",
    "looks_swapped",
    "place_of",
    "zone_at",
    "zone_misfit",
]


class Positioned(Protocol):
    """What a site and a form's cleaned site share."""

    @property
    def latitude(self) -> float: ...
    @property
    def longitude(self) -> float: ...
    @property
    def elevation_m(self) -> float: ...
    @property
    def zone(self) -> str: ...


def place_of(site: Positioned) -> Place:
    """Give the site's place; an empty zone is found from the position. Errors: see Place."""
    # Built once without a zone first: a position out of range has no zone to be found.
    place = Place(site.latitude, site.longitude, site.elevation_m)
    zone = site.zone or zone_at(place.latitude, place.longitude)
    return Place(place.latitude, place.longitude, place.elevation_m, zone)


def looks_swapped(zone: str, latitude: float, longitude: float) -> bool:
    """Tell whether the zone fits the position only with latitude and longitude exchanged."""
    if not zone or abs(longitude) > 90:
        return False
    if zone_misfit(zone, latitude, longitude) is None:
        return False
    return zone_misfit(zone, longitude, latitude) is None


def describe_position(latitude: float, longitude: float) -> str:
    """Say a position so that a wrong sign is heard: 40.4000° north, 1.1000° west."""
    north = _("north") if latitude >= 0 else _("south")
    east = _("east") if longitude >= 0 else _("west")
    return _("%(latitude)s° %(north)s, %(longitude)s° %(east)s") % {
        "latitude": f"{abs(latitude):.4f}",
        "north": north,
        "longitude": f"{abs(longitude):.4f}",
        "east": east,
    }


def geo_of(latitude: float, longitude: float) -> str:
    """Give the address that maps on a phone open (RFC 5870): latitude first, no exponent."""
    return f"geo:{latitude:z.5f},{longitude:z.5f}"
