"""Directions in words: sixteen points of the compass, whole degrees, no more than is known."""

from __future__ import annotations

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

POINTS = (
    gettext_lazy("north"),
    gettext_lazy("north-north-east"),
    gettext_lazy("north-east"),
    gettext_lazy("east-north-east"),
    gettext_lazy("east"),
    gettext_lazy("east-south-east"),
    gettext_lazy("south-east"),
    gettext_lazy("south-south-east"),
    gettext_lazy("south"),
    gettext_lazy("south-south-west"),
    gettext_lazy("south-west"),
    gettext_lazy("west-south-west"),
    gettext_lazy("west"),
    gettext_lazy("west-north-west"),
    gettext_lazy("north-west"),
    gettext_lazy("north-north-west"),
)
# Nearer to the horizon the air moves a body by 0.2° from day to day.
LEAST_SURE_DEGREES = 2.0


def compass_point(azimuth_degrees: float) -> str:
    """Give the nearest of sixteen points, from true north through east."""
    return str(POINTS[round(azimuth_degrees / 22.5) % 16])


def bearing(azimuth_degrees: float) -> str:
    """Give "north-west, 302°"."""
    return _("%(point)s, %(degrees)d°") % {
        "point": compass_point(azimuth_degrees),
        "degrees": whole_azimuth(azimuth_degrees),
    }


def pointed(azimuth_degrees: float) -> str:
    """Give "east-south-east (112°)", for the middle of a sentence."""
    return _("%(point)s (%(degrees)d°)") % {
        "point": compass_point(azimuth_degrees),
        "degrees": whole_azimuth(azimuth_degrees),
    }


def distance(metres: float) -> str:
    """Give "640 m" or "12.3 km"."""
    if metres < 1000:
        return _("%(metres)d m") % {"metres": round(metres)}
    return _("%(km).1f km") % {"km": metres / 1000}


def whole_azimuth(azimuth_degrees: float) -> int:
    return round(azimuth_degrees) % 360


def height(altitude_degrees: float) -> str:
    """Give an apparent altitude as "34°", or "less than 2°" where it is not known better."""
    if altitude_degrees < LEAST_SURE_DEGREES:
        return _("less than 2°")
    return f"{round(altitude_degrees)}°"
