"""Sky's refusals, and why an event does not happen, in sentences for the person who must act."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.errors import SkyError
from trips.almanac.camera_sentences import CAMERA_FIELDS, CAMERA_SENTENCES
from trips.almanac.gear_words import GEAR_SENTENCES, label

__all__ = ["SkyError", "sentence", "why_absent"]

FIELDS = {
    "latitude": gettext_lazy("latitude"),
    "longitude": gettext_lazy("longitude"),
    "elevation": gettext_lazy("elevation"),
    **CAMERA_FIELDS,
    "frame_level": gettext_lazy("level"),
    "frame_seconds": gettext_lazy("exposure time"),
    "frame_iso": gettext_lazy("ISO"),
    "sky_brightness": gettext_lazy("sky brightness"),
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
    if error.code in CAMERA_SENTENCES:
        return CAMERA_SENTENCES[error.code] % error.fields
    if error.code in GEAR_SENTENCES:
        named = {"label": label(str(error.fields.get("field", "")))}
        return GEAR_SENTENCES[error.code] % {**error.fields, **named}
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


def _target_unknown(fields: Fields) -> str:
    name, near = fields["name"], fields["nearest"]
    if not name:
        return _("No target is named; write one like M 31, Jupiter or 17h45m40s −29d00m28s.")
    if isinstance(near, tuple) and near:
        names = ", ".join(f"“{each}”" for each in near)
        words = _("No target is named “%(name)s”; the nearest names are %(names)s.")
        return words % {"name": name, "names": names}
    words = _("No target is named “%(name)s”; write one like M 31, Jupiter or Galactic core.")
    return words % {"name": name}


def _target_too_long(fields: Fields) -> str:
    return (
        _("The name of a target has at most %(most)d characters; this one has %(length)d.") % fields
    )


def _target_kind(fields: Fields) -> str:
    return _("“%(key)s” names no kind of target that is known.") % fields


def _position_unreadable(fields: Fields) -> str:
    return (
        _("“%(value)s” cannot be read as an angle; write it like 266.417, 17h45m40s or −29d00m28s.")
        % fields
    )


def _ra_outside(fields: Fields) -> str:
    return _("The right ascension %(value)s is outside 0 to 360° (0 to 24 h).") % fields


def _dec_outside(fields: Fields) -> str:
    return _("The declination %(value)s is outside −90 to 90°.") % fields


def _starter_list(fields: Fields) -> str:
    return _("There is no list to begin with named “%(name)s”; choose one of those shown.") % fields


def _without_track(fields: Fields) -> str:
    return _("%(name)s is no point of the sky: it has no track.") % fields


def _azimuth_outside(fields: Fields) -> str:
    return _("The azimuth %(value)g is outside %(low)g to %(high)g degrees.") % fields


def _altitude_outside(fields: Fields) -> str:
    return _("The altitude %(value)g is outside %(low)g to %(high)g degrees.") % fields


def _tolerance_outside(fields: Fields) -> str:
    return _("The tolerance %(value)g is outside %(low)g to %(high)g degrees.") % fields


def _without_direction(fields: Fields) -> str:
    return _("%(name)s spans the sky and stands at no one place; choose a point of it.") % fields


def _face_outside(fields: Fields) -> str:
    return _("A face looks toward 0 to 360°, from north through east; %(face)g° is none.") % fields


def _side_angles(fields: Fields) -> str:
    return (
        _(
            "The angles %(least)g° and %(most)g° are no light from the side; write two from 0 to"
            " 90°, the smaller first."
        )
        % fields
    )


def _magnetic_expired(fields: Fields) -> str:
    return (
        _(
            "The magnetic model %(model)s holds until %(last_day)s: for %(date)s nobody can say yet"
            " where a needle will point."
        )
        % fields
    )


def _magnetic_missing(fields: Fields) -> str:
    return _("There is no magnetic model at hand for days before %(first_day)s.") % fields


def _instant(fields: Fields) -> str:
    return _("%(first)s is outside the years that can be computed: 1972 to 2050.") % fields


def _sky_magnitude(fields: Fields) -> str:
    words = _(
        "A sky of %(value)g mag/arcsec² is outside %(low)g to %(high)g: a city has about 18, a dark"
        " sky 22."
    )
    return words % fields


def _extinction(fields: Fields) -> str:
    words = _(
        "The extinction %(value)g is outside %(low)g to %(high)g mag per airmass; clean air has"
        " about 0.17."
    )
    return words % fields


def _towns_share(fields: Fields) -> str:
    return _("The towns' share of the sky's light, %(value)g, is not zero or more.") % fields


def _sun_up(fields: Fields) -> str:
    words = _("The Sun is up, at %(altitude).1f°: the sky is computed between sunset and sunrise.")
    return words % fields


def _moon_in_direction(fields: Fields) -> str:
    words = _(
        "The Moon itself stands there, %(apart).2f° away: ask for a sky at least half a degree"
        " beside it."
    )
    return words % fields


def _frame_seconds(fields: Fields) -> str:
    words = _("An exposure of %(value)g s cannot be: write the seconds, up to %(high)g, like 20.")
    return words % fields


def _frame_iso(fields: Fields) -> str:
    words = _("ISO %(value)g cannot be: write the number that the camera showed, like 3200.")
    return words % fields


def _frame_black(fields: Fields) -> str:
    words = _(
        "A level of %(value)g is black: write what is left after the black level was taken off, "
        "like 0.03, or expose more."
    )
    return words % fields


def _frame_burnt_out(fields: Fields) -> str:
    words = _(
        "A level of %(value)g is full scale or more: the frame is burnt out, expose less. A level "
        "of 3 %% is written 0.03."
    )
    return words % fields


def _metered_outside(fields: Fields) -> str:
    words = _(
        "This frame would make a sky of %(value).2f mag/arcsec², outside %(low)g to %(high)g: look "
        "at its numbers again, and at the camera’s calibration."
    )
    return words % fields


def _camera_not_calibrated(fields: Fields) -> str:
    words = _("“%(camera)s” is not calibrated: take a frame beside a meter first.")
    return words % fields


def _known_sky_outside(fields: Fields) -> str:
    return _("%(value)g mag/arcsec² is no sky of a night: %(low)g to %(high)g are.") % fields


def _humidity(fields: Fields) -> str:
    return _("A humidity of %(value)s %% is not possible: more than 0, and 100 at most.") % fields


def _wind(fields: Fields) -> str:
    return _("A wind of %(value)s km/h is not possible: 0 or more.") % fields


SENTENCES: dict[str, Callable[[Fields], str]] = {
    "not_a_number": _not_a_number,
    "latitude_out_of_range": _latitude,
    "longitude_out_of_range": _longitude,
    "elevation_out_of_range": _elevation,
    "zone_unknown": _zone,
    "season_reversed": _reversed,
    "season_outside": _outside,
    "season_too_long": _too_long,
    "target_unknown": _target_unknown,
    "target_too_long": _target_too_long,
    "target_kind_unknown": _target_kind,
    "position_unreadable": _position_unreadable,
    "ra_outside": _ra_outside,
    "dec_outside": _dec_outside,
    "starter_list_unknown": _starter_list,
    "skyline_not_a_number": _skyline_number,
    "skyline_azimuth_outside": _skyline_azimuth,
    "skyline_altitude_outside": _skyline_altitude,
    "skyline_azimuth_twice": _skyline_twice,
    "skyline_too_many": _skyline_too_many,
    "target_without_track": _without_track,
    "azimuth_outside": _azimuth_outside,
    "altitude_outside": _altitude_outside,
    "tolerance_outside": _tolerance_outside,
    "target_without_direction": _without_direction,
    "instant_outside": _instant,
    "sky_magnitude_outside": _sky_magnitude,
    "extinction_outside": _extinction,
    "towns_share_negative": _towns_share,
    "sun_up": _sun_up,
    "moon_in_direction": _moon_in_direction,
    "face_outside": _face_outside,
    "side_angles_outside": _side_angles,
    "magnetic_model_expired": _magnetic_expired,
    "magnetic_model_missing": _magnetic_missing,
    "frame_seconds_outside": _frame_seconds,
    "frame_iso_outside": _frame_iso,
    "frame_black": _frame_black,
    "frame_burnt_out": _frame_burnt_out,
    "metered_outside": _metered_outside,
    "known_sky_outside": _known_sky_outside,
    "camera_not_calibrated": _camera_not_calibrated,
    "humidity_out_of_range": _humidity,
    "wind_out_of_range": _wind,
}
