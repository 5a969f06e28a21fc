"""Gear in words: a piece in one line, and each finding of the check with its reason."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import template
from django.utils.formats import number_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from trips.almanac.camera_words import PROJECTION_WORDS, f_words, grouped
from trips.almanac.gear_words import KIND_WORDS, choice_words
from trips.planning.gear import (
    NAMES,
    Batteries,
    Camera,
    DewHeater,
    Lens,
    Magnifier,
    Piece,
    Release,
    Support,
    Tracker,
)
from trips.planning.gear_check import Finding

register = template.Library()

COLUMN_WORDS = {
    "none": gettext_lazy("no centre column"),
    "lowered": gettext_lazy("centre column lowered"),
    "raised": gettext_lazy("centre column raised"),
}
LOCK_WORDS = {"twist": gettext_lazy("twist locks"), "flip": gettext_lazy("flip locks")}

# What the organiser typed, and no habit.
TYPED = ("folded", "folded_long", "folded_unknown", "too_heavy")

SENTENCES = {
    "no_camera": gettext_lazy(
        "No camera yet: a phone is one, with the sensor “phone, main camera”."
    ),
    "no_lens": gettext_lazy("No lens yet: write what is printed on it, such as 24 and 2.8."),
    "phone_lens_unknown": gettext_lazy(
        "Which lens does your phone have? Write its real focal length, a few millimetres, and its "
        "aperture, such as 6.8 and 1.8."
    ),
    "no_support": gettext_lazy(
        "No tripod: stars need seconds, and nothing held in a hand stands still for them."
    ),
    "support_travel": gettext_lazy(
        "A travel tripod is too light for long exposures: wind and steps shake it. Hang weight "
        "on it and keep it low, or borrow a heavier one."
    ),
    "legs_unknown": gettext_lazy(
        "How thick are its legs? Measure the thickest tube: from %(least)s mm on it stands "
        "still in wind."
    ),
    "legs_thin": gettext_lazy(
        "Legs of %(leg)s mm tremble in wind; %(least)s mm or more stand still. Keep it low and "
        "out of the wind."
    ),
    "legs": gettext_lazy("Legs of %(leg)s mm stand still: %(least)s mm or more do."),
    "sections_many": gettext_lazy(
        "%(sections)s sections end in thin tubes: leave the last ones in. Three or four are usual."
    ),
    "sections_few": gettext_lazy(
        "%(sections)s sections stand firmly but fold long. Three or four are usual."
    ),
    "sections": gettext_lazy("%(sections)s sections: firm, and short enough to carry."),
    "column_raised": gettext_lazy(
        "A raised centre column swings like a mast: lower it, and draw out the legs instead."
    ),
    "column": gettext_lazy("No raised centre column: nothing swings."),
    "no_level_tracker": gettext_lazy(
        "No level in the base: a tracker is set up faster and truer on a level one. Lay a small "
        "bubble on it."
    ),
    "no_level_panorama": gettext_lazy(
        "No level in the base: the horizon of a panorama runs uphill unless its base is level. "
        "Lay a small bubble on it."
    ),
    "no_turning_base": gettext_lazy(
        "The base does not turn: for a panorama the camera must turn level, by equal steps."
    ),
    "base_tracker": gettext_lazy("A level in the base: the tracker will stand true."),
    "base_panorama": gettext_lazy("A level base that turns: a panorama keeps its horizon."),
    "flip_locks": gettext_lazy(
        "Flip locks are stiff and pinch thick gloves at %(coldest)s °C: draw out the legs before "
        "it gets cold."
    ),
    "twist_locks": gettext_lazy("Twist locks: they turn with gloves on, at %(coldest)s °C too."),
    "height_low": gettext_lazy(
        "%(height)s cm high: pointing up, you will kneel to see the screen. Bring a pad, or a "
        "tripod of %(tall)s cm."
    ),
    "height": gettext_lazy(
        "%(height)s cm high: the screen can be seen when the camera points up; %(tall)s cm will do."
    ),
    "load_over": gettext_lazy(
        "It is made for %(load)s kg, and %(weight)s kg are to stand on it: it may tip or sink."
    ),
    "tracker_wanted": gettext_lazy(
        "A tracker for %(longest)s mm: past about %(past)s mm, as on full frame, stars trail "
        "before enough light is in."
    ),
    "payload_unknown": gettext_lazy(
        "Does the tracker carry it? It is made for %(payload)s kg: write what camera and lens "
        "weigh."
    ),
    "payload_over": gettext_lazy(
        "The tracker is made for %(payload)s kg, and camera and lens weigh %(weight)s kg: it would "
        "slip. Use a lighter lens on it."
    ),
    "payload": gettext_lazy("The tracker carries %(weight)s kg: it is made for %(payload)s kg."),
    "batteries_unknown": gettext_lazy("How many camera batteries do you bring?"),
    "batteries_few": gettext_lazy(
        "%(number)s of %(wanted)s batteries: long exposures empty one in a night."
    ),
    "batteries_few_cold": gettext_lazy(
        "%(number)s of %(wanted)s batteries: at %(coldest)s °C one gives about half. Keep the "
        "spare ones warm, near the body."
    ),
    "batteries": gettext_lazy("%(number)s batteries: enough for a night."),
    "no_release": gettext_lazy(
        "No remote release: use the camera’s self-timer, so that no finger shakes it. Past 30 s "
        "a release is needed."
    ),
    "no_red_light": gettext_lazy(
        "No red light: white light takes everybody’s eyes out of the dark for twenty minutes."
    ),
    "red_light_white_first": gettext_lazy(
        "Your lamp goes through white before red: switch it on inside a pocket, away from others."
    ),
    "red_light": gettext_lazy("A light that comes on red: eyes stay used to the dark."),
    "no_dew_heater": gettext_lazy(
        "No dew heater: dew is likely, and settles on the front lens first. A warm band keeps it "
        "off."
    ),
    "folded_unknown": gettext_lazy(
        "How long is %(name)s folded? In the cabin %(most)s cm are allowed."
    ),
    "folded_long": gettext_lazy(
        "%(name)s folds to %(folded)s cm, and %(most)s cm are allowed in the cabin: check it in, "
        "or borrow one there."
    ),
    "folded": gettext_lazy(
        "%(name)s folds to %(folded)s cm: in the cabin %(most)s cm are allowed."
    ),
    "too_heavy": gettext_lazy(
        "%(name)s weighs %(weight)s kg, and %(most)s kg are allowed in the cabin."
    ),
}


@register.filter
def finding_words(one: Finding) -> str:
    """Say a finding in a sentence, with its reason."""
    figures = {name: _figure(value) for name, value in one.figures.items()}
    figures["name"] = str(one.figures.get("name") or capfirst(KIND_WORDS[one.kind]))
    return SENTENCES[_code(one)] % figures


@register.filter
def is_practice(one: Finding) -> bool:
    """Tell whether a finding rests on habit; else it does on what the organiser typed."""
    return one.code not in TYPED


@register.filter
def kind_name(kind: str) -> str:
    return str(KIND_WORDS.get(kind, kind))


def _code(one: Finding) -> str:
    """A level base is wanted for one of two things."""
    if one.code not in ("no_level", "base"):
        return one.code
    return f"{one.code}_{'panorama' if one.figures['panorama'] else 'tracker'}"


def _figure(value: Any) -> str:
    if isinstance(value, float):
        return number_format(f"{round(value, 1):g}").replace("-", "−")
    return str(value).replace("-", "−") if isinstance(value, int) else str(value)


@register.filter
def piece_words(piece: Piece) -> str:
    """Say what a piece is in one line, without its name; "" for what has no figures."""
    say = TOLD.get(type(piece))
    return say(piece) if say else ""


@register.filter
def piece_title(piece: Piece) -> str:
    """Say a piece by the name that its owner gave it, else by what it is."""
    if isinstance(piece, Lens):
        return f"{piece.name}, {lens_title(piece)}" if piece.name else lens_title(piece)
    return piece.name or capfirst(kind_name(NAMES[type(piece)]))


def lens_title(lens: Lens) -> str:
    """Say a lens as it is written on it: "24–70 mm f/2.8"."""
    mm, f = f"{lens.focal_mm:g}", f_words(lens.widest_f_number)
    if lens.longest_mm is not None:
        mm += f"–{lens.longest_mm:g}"
    if lens.widest_at_longest is not None:
        f += f"–{lens.widest_at_longest:g}"
    return f"{mm} mm {f}"


def _camera(one: Camera) -> str:
    words = _("%(width)s × %(height)s mm, %(pixels)s pixels across, up to ISO %(iso)s")
    said = words % {
        "width": _figure(float(one.sensor_width_mm)),
        "height": _figure(float(one.sensor_height_mm)),
        "pixels": grouped(one.pixels_wide),
        "iso": grouped(one.top_iso),
    }
    return ", ".join([said, *_weight(one.weight_kg)])


def _lens(one: Lens) -> str:
    draws = "" if one.projection == "rectilinear" else str(PROJECTION_WORDS[one.projection])
    return ", ".join(filter(None, [draws, *_weight(one.weight_kg)]))


def _support(one: Support) -> str:
    told = [
        _("legs of %s mm") % _figure(one.leg_mm) if one.leg_mm is not None else "",
        ngettext("%d section", "%d sections", one.sections) % one.sections if one.sections else "",
        str(COLUMN_WORDS.get(one.centre_column, "")),
        str(LOCK_WORDS.get(one.leg_lock, "")),
        _("level in the base") if one.has_level else "",
        _("base turns") if one.turns else "",
        _("travel tripod") if one.is_travel else "",
        _("folds to %s cm") % _figure(one.folded_cm) if one.folded_cm is not None else "",
        _("%s cm high") % _figure(one.height_cm) if one.height_cm is not None else "",
        _("for %s kg") % _figure(one.load_kg) if one.load_kg is not None else "",
        *_weight(one.weight_kg),
    ]
    return ", ".join(filter(None, told)) or _("nothing said of it yet")


def _tracker(one: Tracker) -> str:
    words = _("carries %(payload)s kg, strays by %(error)s″ a minute, axis within %(polar)s′")
    said = words % {
        "payload": _figure(one.payload_kg),
        "error": _figure(one.stated_error_arcseconds_per_minute),
        "polar": _figure(one.polar_error_arcminutes),
    }
    return ", ".join([said, *_weight(one.weight_kg)])


def _release(one: Release) -> str:
    way = choice_words("way", one.way)
    return _("%s, holds the shutter open past 30 s") % way if one.holds_open else way


def _batteries(one: Batteries) -> str:
    return str(one.number)


def _dew_heater(one: DewHeater) -> str:
    told = [
        _("runs %s h") % _figure(one.hours) if one.hours is not None else "",
        _("goes around %s mm") % _figure(one.around_mm) if one.around_mm is not None else "",
    ]
    return ", ".join(filter(None, told))


def _magnifier(one: Magnifier) -> str:
    return _("enlarges %s times") % _figure(one.times) if one.times is not None else ""


def _weight(kg: float | None) -> list[str]:
    return [] if kg is None else [_("weighs %s kg") % _figure(kg)]


TOLD: dict[type[Piece], Callable[[Any], str]] = {
    Camera: _camera,
    Lens: _lens,
    Support: _support,
    Tracker: _tracker,
    Release: _release,
    Batteries: _batteries,
    DewHeater: _dew_heater,
    Magnifier: _magnifier,
}
