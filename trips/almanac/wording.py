"""Sky's refusals, and why an event does not happen, in sentences for the person who must act."""

from __future__ import annotations

from collections.abc import Mapping

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.errors import SkyError
from trips.almanac.camera_sentences import CAMERA_FIELDS, CAMERA_SENTENCES
from trips.almanac.gear_words import GEAR_SENTENCES, label
from trips.numbers import Figure

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


# Code of a refusal → its sentence, with the refusal's fields; `named` and `label` are what the form
# calls the field that it is about.
SENTENCES = {
    **CAMERA_SENTENCES,
    **GEAR_SENTENCES,
    "not_a_number": gettext_lazy("The %(named)s %(value)s is not a finite number."),
    "latitude_out_of_range": gettext_lazy(
        "Latitude %(value)s is outside %(low)s to %(high)s degrees; latitude and longitude may be"
        " swapped."
    ),
    "longitude_out_of_range": gettext_lazy(
        "Longitude %(value)s is outside %(low)s to %(high)s degrees."
    ),
    "elevation_out_of_range": gettext_lazy(
        "Elevation %(value)s is outside %(low)s to %(high)s metres."
    ),
    "zone_unknown": gettext_lazy("“%(zone)s” is not a time zone; write one such as Europe/Madrid."),
    "season_reversed": gettext_lazy("The last night, %(last)s, is before the first, %(first)s."),
    "season_outside": gettext_lazy(
        "%(date)s is outside the years that can be computed: %(first_day)s to %(last_day)s."
    ),
    "season_too_long": gettext_lazy(
        "%(first)s to %(last)s is more than three years; the last night may be %(longest)s."
    ),
    "target_too_long": gettext_lazy(
        "The name of a target has at most %(most)d characters; this one has %(length)d."
    ),
    "target_kind_unknown": gettext_lazy("“%(key)s” names no kind of target that is known."),
    "position_unreadable": gettext_lazy(
        "“%(value)s” cannot be read as an angle; write it like 266.417, 17h45m40s or −29d00m28s."
    ),
    "ra_outside": gettext_lazy("The right ascension %(value)s is outside 0 to 360° (0 to 24 h)."),
    "dec_outside": gettext_lazy("The declination %(value)s is outside −90 to 90°."),
    "starter_list_unknown": gettext_lazy(
        "There is no list to begin with named “%(name)s”; choose one of those shown."
    ),
    "skyline_not_a_number": gettext_lazy("That is not a number of degrees."),
    "skyline_azimuth_outside": gettext_lazy(
        "The azimuth %(azimuth)s° is outside 0 to 360°, from north through east."
    ),
    "skyline_altitude_outside": gettext_lazy("The altitude %(altitude)s° is outside −90 to 90°."),
    "skyline_azimuth_twice": gettext_lazy(
        "The azimuth %(azimuth)s° has two altitudes, %(before)s° and %(altitude)s°; keep one."
    ),
    "skyline_too_many": gettext_lazy(
        "%(points)d points are too many for a skyline: at most %(most)d, one every 0.1°."
    ),
    "target_without_track": gettext_lazy("%(name)s is no point of the sky: it has no track."),
    "azimuth_outside": gettext_lazy(
        "The azimuth %(value)s is outside %(low)s to %(high)s degrees."
    ),
    "altitude_outside": gettext_lazy(
        "The altitude %(value)s is outside %(low)s to %(high)s degrees."
    ),
    "tolerance_outside": gettext_lazy(
        "The tolerance %(value)s is outside %(low)s to %(high)s degrees."
    ),
    "target_without_direction": gettext_lazy(
        "%(name)s spans the sky and stands at no one place; choose a point of it."
    ),
    "instant_outside": gettext_lazy(
        "%(first)s is outside the years that can be computed: 1972 to 2050."
    ),
    "sky_magnitude_outside": gettext_lazy(
        "A sky of %(value)s mag/arcsec² is outside %(low)s to %(high)s: a city has about 18, a dark"
        " sky 22."
    ),
    "extinction_outside": gettext_lazy(
        "The extinction %(value)s is outside %(low)s to %(high)s mag per airmass; clean air has"
        " about 0.17."
    ),
    "towns_share_negative": gettext_lazy(
        "The towns' share of the sky's light, %(value)s, is not zero or more."
    ),
    "sun_up": gettext_lazy(
        "The Sun is up, at %(altitude).1f°: the sky is computed between sunset and sunrise."
    ),
    "moon_in_direction": gettext_lazy(
        "The Moon itself stands there, %(apart).2f° away: ask for a sky at least half a degree"
        " beside it."
    ),
    "face_outside": gettext_lazy(
        "A face looks toward 0 to 360°, from north through east; %(face)s° is none."
    ),
    "side_angles_outside": gettext_lazy(
        "The angles %(least)s° and %(most)s° are no light from the side; write two from 0 to 90°,"
        " the smaller first."
    ),
    "moon_altitudes_outside": gettext_lazy(
        "A Moon from %(least)s° to %(most)s° high is none that lights a wall; write two heights"
        " from 0 to %(highest)s°, the smaller first."
    ),
    "moon_lit_outside": gettext_lazy(
        "A Moon lit from %(least)s to %(most)s is none; write two fractions from 0 to 1, the"
        " smaller first."
    ),
    "magnetic_model_expired": gettext_lazy(
        "The magnetic model %(model)s holds until %(last_day)s: for %(date)s nobody can say yet"
        " where a needle will point."
    ),
    "magnetic_model_missing": gettext_lazy(
        "There is no magnetic model at hand for days before %(first_day)s."
    ),
    "frame_seconds_outside": gettext_lazy(
        "An exposure of %(value)s s cannot be: write the seconds, up to %(high)s, like 20."
    ),
    "frame_iso_outside": gettext_lazy(
        "ISO %(value)s cannot be: write the number that the camera showed, like 3200."
    ),
    "frame_black": gettext_lazy(
        "A level of %(value)s is black: write what is left after the black level was taken off,"
        " like 0.03, or expose more."
    ),
    "frame_burnt_out": gettext_lazy(
        "A level of %(value)s is full scale or more: the frame is burnt out, expose less. A level"
        " of 3 %% is written 0.03."
    ),
    "metered_outside": gettext_lazy(
        "This frame would make a sky of %(value).2f mag/arcsec², outside %(low)s to %(high)s: look"
        " at its numbers again, and at the camera’s calibration."
    ),
    "known_sky_outside": gettext_lazy(
        "%(value)s mag/arcsec² is no sky of a night: %(low)s to %(high)s are."
    ),
    "camera_not_calibrated": gettext_lazy(
        "“%(camera)s” is not calibrated: take a frame beside a meter first."
    ),
    "humidity_out_of_range": gettext_lazy(
        "A humidity of %(value)s %% is not possible: more than 0, and 100 at most."
    ),
    "wind_out_of_range": gettext_lazy("A wind of %(value)s km/h is not possible: 0 or more."),
}


def why_absent(code: str) -> str:
    """Say why an event does not happen."""
    return str(ABSENCES.get(code, code))


def sentence(error: SkyError) -> str:
    """Say what was wrong, and what would be right."""
    if error.code == "target_unknown":
        return _target_unknown(error.fields)
    words = SENTENCES.get(error.code)
    field = str(error.fields.get("field", ""))
    named = {"named": FIELDS.get(field, field), "label": label(field)}
    told = {name: _told(value) for name, value in error.fields.items()}
    return words % {**told, **named} if words else str(error)


def _told(value: object) -> object:
    is_number = isinstance(value, float | int) and not isinstance(value, bool)
    return Figure(value) if is_number else value  # type: ignore[arg-type]  # as just looked at


def _target_unknown(fields: Mapping[str, object]) -> str:
    name, near = fields["name"], fields["nearest"]
    if not name:
        return _("No target is named; write one like M 31, Jupiter or 17h45m40s −29d00m28s.")
    if isinstance(near, tuple) and near:
        names = ", ".join(f"“{each}”" for each in near)
        words = _("No target is named “%(name)s”; the nearest names are %(names)s.")
        return words % {"name": name, "names": names}
    words = _("No target is named “%(name)s”; write one like M 31, Jupiter or Galactic core.")
    return words % {"name": name}
