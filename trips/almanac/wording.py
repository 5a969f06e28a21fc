"""Sky's refusals, and why an event does not happen, in sentences for the person who must act."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.errors import SkyError

__all__ = ["SkyError", "sentence", "why_absent"]

FIELDS = {
    "latitude": gettext_lazy("latitude"),
    "longitude": gettext_lazy("longitude"),
    "elevation": gettext_lazy("elevation"),
}

ABSENCES = {
    "sun_never_sets": gettext_lazy("the Sun does not set"),
    "sun_never_rises": gettext_lazy("the Sun does not rise"),
    "sun_already_down": gettext_lazy("the Sun set before this noon"),
    "sun_still_down": gettext_lazy("the Sun rises after the next noon"),
    "never_that_low": gettext_lazy("the Sun does not go that low"),
    "never_that_high": gettext_lazy("the Sun does not come that high"),
    "already_that_low": gettext_lazy("the Sun is that low before this noon"),
    "still_that_low": gettext_lazy("the Sun is that low beyond the next noon"),
    "moon_never_sets": gettext_lazy("the Moon does not set"),
    "moon_never_rises": gettext_lazy("the Moon does not rise"),
    "moon_already_up": gettext_lazy("the Moon is up before this noon"),
    "moon_still_up": gettext_lazy("the Moon is up beyond the next noon"),
    "moon_already_down": gettext_lazy("the Moon is down before this noon"),
    "moon_still_down": gettext_lazy("the Moon is down beyond the next noon"),
    "never_dark": gettext_lazy("it does not get dark"),
    "moon_up_while_dark": gettext_lazy("the Moon is up while it is dark"),
}


def why_absent(code: str) -> str:
    """Say why an event does not happen."""
    return str(ABSENCES.get(code, code))


def sentence(error: SkyError) -> str:
    """Say what was wrong, and what would be right."""
    say = SENTENCES.get(error.code)
    return say(error.fields) if say else str(error)


Fields = Mapping[str, object]


def _not_a_number(fields: Fields) -> str:
    return _("The %(field)s %(value)s is not a finite number.") % {
        "field": FIELDS.get(str(fields["field"]), fields["field"]),
        "value": fields["value"],
    }


def _latitude(fields: Fields) -> str:
    return (
        _(
            "Latitude %(value)s is outside %(low)g to %(high)g degrees;"
            " latitude and longitude may be swapped."
        )
        % fields
    )


def _longitude(fields: Fields) -> str:
    return _("Longitude %(value)s is outside %(low)g to %(high)g degrees.") % fields


def _elevation(fields: Fields) -> str:
    return _("Elevation %(value)s is outside %(low)g to %(high)g metres.") % fields


def _zone(fields: Fields) -> str:
    return _("“%(zone)s” is not a time zone; write one such as Europe/Madrid.") % fields


def _reversed(fields: Fields) -> str:
    return _("The last night, %(last)s, is before the first, %(first)s.") % fields


def _outside(fields: Fields) -> str:
    return (
        _("%(date)s is outside the years that can be computed: %(first_day)s to %(last_day)s.")
        % fields
    )


def _too_long(fields: Fields) -> str:
    return (
        _("%(first)s to %(last)s is more than three years; the last night may be %(longest)s.")
        % fields
    )


def _skyline_number(fields: Fields) -> str:  # noqa: ARG001 - as the others
    return _("That is not a number of degrees.")


def _skyline_azimuth(fields: Fields) -> str:
    return _("The azimuth %(azimuth)g° is outside 0 to 360°, from north through east.") % fields


def _skyline_altitude(fields: Fields) -> str:
    return _("The altitude %(altitude)g° is outside −90 to 90°.") % fields


def _skyline_twice(fields: Fields) -> str:
    return (
        _("The azimuth %(azimuth)g° has two altitudes, %(before)g° and %(altitude)g°; keep one.")
        % fields
    )


def _skyline_too_many(fields: Fields) -> str:
    return (
        _("%(points)d points are too many for a skyline: at most %(most)d, one every 0.1°.")
        % fields
    )


SENTENCES: dict[str, Callable[[Fields], str]] = {
    "not_a_number": _not_a_number,
    "latitude_out_of_range": _latitude,
    "longitude_out_of_range": _longitude,
    "elevation_out_of_range": _elevation,
    "zone_unknown": _zone,
    "season_reversed": _reversed,
    "season_outside": _outside,
    "season_too_long": _too_long,
    "skyline_not_a_number": _skyline_number,
    "skyline_azimuth_outside": _skyline_azimuth,
    "skyline_altitude_outside": _skyline_altitude,
    "skyline_azimuth_twice": _skyline_twice,
    "skyline_too_many": _skyline_too_many,
}
