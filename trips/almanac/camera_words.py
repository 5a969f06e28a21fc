"""Lenses, sensors, times and skies in words that somebody who never calculated understands."""

from __future__ import annotations

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from sky.camera.lens import Lens
from sky.camera.sensor import COMMON_SENSORS, Sensor
from trips.almanac.camera import DECLINATIONS, SKIES

Choices = list[tuple[str, str]]

SENSOR_WORDS = {
    "medium-format": gettext_lazy("medium format"),
    "full-frame": gettext_lazy("full frame"),
    "full-frame-fine": gettext_lazy("full frame, many pixels"),
    "aps-c": gettext_lazy("APS-C"),
    "four-thirds": gettext_lazy("four thirds"),
    "one-inch": gettext_lazy("1 inch"),
    "phone-main": gettext_lazy("phone, main camera"),
    "phone-small": gettext_lazy("phone, small camera"),
}
PROJECTION_WORDS = {
    "rectilinear": gettext_lazy("straight lines stay straight"),
    "equisolid": gettext_lazy("fisheye, equisolid (usual)"),
    "equidistant": gettext_lazy("fisheye, equidistant"),
    "stereographic": gettext_lazy("fisheye, stereographic"),
    "orthographic": gettext_lazy("fisheye, orthographic"),
}
SKY_WORDS = {
    "town": gettext_lazy("in a town"),
    "village": gettext_lazy("at the edge of a village"),
    "country": gettext_lazy("in open country, towns on the horizon"),
    "far": gettext_lazy("far from lights"),
}
TOWARD_WORDS = {
    "core": gettext_lazy("the core of the Milky Way"),
    "equator": gettext_lazy("Orion’s belt, on the sky’s equator"),
    "between": gettext_lazy("half-way from the sky’s equator to its pole"),
    "pole": gettext_lazy("the pole star, beside the sky’s pole"),
}
MOON_WORDS = {
    "none": gettext_lazy("none"),
    "thin": gettext_lazy("thin"),
    "half": gettext_lazy("half"),
    "full": gettext_lazy("full"),
}

# A fist at arm's length, a hand spread from thumb to little finger, a finger's width. Common
# practice, no published source.
FIST_DEGREES, FINGER_DEGREES, MOON_DEGREES = 10.0, 2.0, 0.5


def sensor_choices() -> Choices:
    return [(name, sensor_words(name)) for name in COMMON_SENSORS]


def sensor_words(name: str) -> str:
    """Name a common sensor with its size; a camera's megapixels are asked apart."""
    words = _("%(name)s, %(size)s mm")
    return words % {"name": SENSOR_WORDS[name], "size": size_words(COMMON_SENSORS[name])}


def named_or_size(sensor: Sensor) -> str:
    """Name a common sensor as people call it, any other by its sides."""
    names = (str(SENSOR_WORDS[name]) for name, one in COMMON_SENSORS.items() if one == sensor)
    return next(names, f"{size_words(sensor)} mm")


def size_words(sensor: Sensor) -> str:
    return f"{sensor.width_mm:g} × {sensor.height_mm:g}"


def projection_choices() -> Choices:
    return [(name, str(words)) for name, words in PROJECTION_WORDS.items()]


def sky_choices() -> Choices:
    return [(name, f"{words} ({SKIES[name]})") for name, words in SKY_WORDS.items()]


def sky_words(dark_mag: float, moon: str) -> str:
    """Say under what sky, by name where it is one of those that are offered."""
    names = (str(SKY_WORDS[name]) for name, offered in SKIES.items() if offered == dark_mag)
    sky = next(names, _("under a sky of %(mag).1f mag/arcsec²") % {"mag": dark_mag})
    if moon == "none":
        return sky
    return _("%(sky)s, with a %(moon)s Moon") % {"sky": sky, "moon": MOON_WORDS[moon]}


def toward_choices() -> Choices:
    return [(name, str(words)) for name, words in TOWARD_WORDS.items()]


def toward_words(declination: float) -> str:
    """Say where a camera points, by name where it is one of those that are offered."""
    for name, offered in DECLINATIONS.items():
        if offered == declination:
            return str(TOWARD_WORDS[name])
    return _("declination %(degrees)s") % {"degrees": signed(declination)}


def signed(degrees: float) -> str:
    return f"{degrees:+.1f}°".replace("-", "−").replace(".0°", "°")


def moon_choices() -> Choices:
    return [(name, str(words)) for name, words in MOON_WORDS.items()]


def support_choices() -> Choices:
    return [("tripod", _("a tripod")), ("tracker", _("a tracker"))]


def trail_choices() -> Choices:
    return [("5", _("5 pixels")), ("2", _("2 pixels, strict"))]


def lens_words(lens: Lens) -> str:
    """Say a lens as it is written on it: "24 mm f/1.4"."""
    words = f"{lens.focal_mm:g} mm"
    if lens.widest_f_number is not None:
        words += f" {f_words(lens.widest_f_number)}"
    return words if lens.projection == "rectilinear" else _("%(lens)s fisheye") % {"lens": words}


def f_words(f_number: float) -> str:
    return f"f/{f_number:g}"


def iso_words(iso: float) -> str:
    return f"ISO {grouped(iso)}"


def grouped(number: float) -> str:
    """Write a whole number as 6400 and 12 800."""
    whole = round(number)
    return f"{whole:,}".replace(",", "\N{NO-BREAK SPACE}") if whole >= 10_000 else str(whole)


def seconds_words(seconds: float) -> str:
    """Write a time as shutters have it: 1/60 s, 0.8 s, 15 s, 4 min."""
    if seconds < 0.3:
        return f"1/{1 / seconds:.0f} s"
    if seconds < 30:
        return f"{seconds:.1f}".removesuffix(".0") + " s"
    if seconds < 120:
        return f"{seconds:.0f} s"
    if seconds < 7200:
        return f"{seconds / 60:.0f} min"
    return f"{seconds / 3600:.1f} h"


def degrees_words(degrees: float) -> str:
    """Write an angle with two figures, or the whole degrees of a large one."""
    return f"{degrees:.{0 if degrees >= 10 else 1}f}°"


def metres_words(metres: float) -> str:
    if metres >= 1000:
        return f"{metres / 1000:.1f} km"
    return f"{metres:.0f} m" if metres >= 10 else f"{metres:.1f} m"


def stops_words(stops: float) -> str:
    """Say so many stops, to a third: a camera has no finer."""
    thirds = round(abs(stops) * 3)
    whole, part = divmod(thirds, 3)
    said = {0: "", 1: "⅓", 2: "⅔"}[part]
    number = f"{whole or ''}{said}" or "0"
    return ngettext("%(number)s stop", "%(number)s stops", 1 if thirds <= 3 else 2) % {
        "number": number
    }


def hands(degrees: float) -> str:
    """Say an angle by what is held out at arm's length."""
    if degrees >= 0.75 * FIST_DEGREES:
        halves = round(2 * degrees / FIST_DEGREES)
        number = f"{halves // 2 or ''}{'½' if halves % 2 else ''}"
        return ngettext("%(number)s fist", "%(number)s fists", 1 if halves <= 2 else 2) % {
            "number": number
        }
    if degrees >= 0.75 * FINGER_DEGREES:
        fingers = round(degrees / FINGER_DEGREES)
        return ngettext("%(count)d finger", "%(count)d fingers", fingers) % {"count": fingers}
    moons = max(1, round(degrees / MOON_DEGREES))
    return ngettext("%(count)d Moon", "%(count)d Moons", moons) % {"count": moons}
