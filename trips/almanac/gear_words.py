"""Gear in words: what the kinds are called, and what each figure of theirs is."""

from __future__ import annotations

from django.utils.translation import gettext_lazy

# By the names of `planning/gear/kinds.py`, in the order in which people are asked.
KIND_WORDS = {
    "camera": gettext_lazy("camera"),
    "lens": gettext_lazy("lens"),
    "support": gettext_lazy("tripod"),
    "tracker": gettext_lazy("tracker"),
    "release": gettext_lazy("remote release"),
    "batteries": gettext_lazy("camera batteries"),
    "red_light": gettext_lazy("red light"),
    "dew_heater": gettext_lazy("dew heater"),
    "magnifier": gettext_lazy("magnifier"),
    "tape": gettext_lazy("tape"),
}

FIELD_WORDS = {
    "sensor_width_mm": gettext_lazy("Sensor’s width (mm)"),
    "sensor_height_mm": gettext_lazy("Sensor’s height (mm)"),
    "pixels_wide": gettext_lazy("Pixels across"),
    "pixels_high": gettext_lazy("Pixels down"),
    "top_iso": gettext_lazy("Highest ISO you accept"),
    "weight_kg": gettext_lazy("Weight (kg)"),
    "focal_mm": gettext_lazy("Focal length (mm)"),
    "longest_mm": gettext_lazy("Longest focal length (mm)"),
    "widest_f_number": gettext_lazy("Widest aperture"),
    "widest_at_longest": gettext_lazy("Widest aperture at the longest"),
    "projection": gettext_lazy("How it draws"),
    "leg_mm": gettext_lazy("Thickest tube of a leg (mm)"),
    "sections": gettext_lazy("Sections of a leg"),
    "centre_column": gettext_lazy("Centre column"),
    "leg_lock": gettext_lazy("Leg locks"),
    "has_level": gettext_lazy("A level in its base"),
    "turns": gettext_lazy("A base that turns"),
    "is_travel": gettext_lazy("Sold as a travel tripod"),
    "folded_cm": gettext_lazy("Length folded (cm)"),
    "height_cm": gettext_lazy("Height, centre column down (cm)"),
    "load_kg": gettext_lazy("Load it is made for (kg)"),
    "payload_kg": gettext_lazy("Load it carries (kg)"),
    "stated_error_arcseconds_per_minute": gettext_lazy("It strays by (″ a minute)"),
    "polar_error_arcminutes": gettext_lazy("Its axis misses the pole by (′)"),
    "way": gettext_lazy("Release"),
    "holds_open": gettext_lazy("Holds the shutter open past 30 s"),
    "number": gettext_lazy("How many"),
    "starts_red": gettext_lazy("Comes on red, never white first"),
    "hours": gettext_lazy("Hours that it runs"),
    "around_mm": gettext_lazy("Goes around a lens of up to (mm)"),
    "times": gettext_lazy("Times it enlarges"),
}

HELP_WORDS = {
    "pixels_wide": gettext_lazy("Of its pictures. Empty: usual for that sensor."),
    "top_iso": gettext_lazy("Beyond it you find the picture too coarse."),
    "leg_mm": gettext_lazy("Measure its diameter; from 25 mm on it stands still in wind."),
    "centre_column": gettext_lazy("As you use it."),
    "stated_error_arcseconds_per_minute": gettext_lazy(
        "As its maker says; leave 0 if you do not know."
    ),
    "polar_error_arcminutes": gettext_lazy("As you set it up. The Moon is 30′ wide."),
    "number": gettext_lazy("Charged ones, that in the camera among them."),
    "is_travel": gettext_lazy("Light and short: it shakes in long exposures."),
}

CHOICE_WORDS = {
    ("centre_column", "unknown"): gettext_lazy("not looked yet"),
    ("centre_column", "none"): gettext_lazy("none"),
    ("centre_column", "lowered"): gettext_lazy("lowered"),
    ("centre_column", "raised"): gettext_lazy("raised"),
    ("leg_lock", "unknown"): gettext_lazy("not looked yet"),
    ("leg_lock", "twist"): gettext_lazy("twist"),
    ("leg_lock", "flip"): gettext_lazy("flip"),
    ("way", "cable"): gettext_lazy("cable"),
    ("way", "radio"): gettext_lazy("radio"),
    ("way", "self-timer"): gettext_lazy("self-timer of the camera"),
}

GEAR_SENTENCES = {
    "gear_kind_unknown": gettext_lazy("“%(kind)s” is no kind of gear that is kept here."),
    "gear_missing": gettext_lazy("“%(label)s” is empty: write its number."),
    "gear_not_a_number": gettext_lazy("“%(label)s”: “%(value)s” is not a number."),
    "gear_not_whole": gettext_lazy("“%(label)s”: %(value)s is not a whole number."),
    "gear_outside": gettext_lazy(
        "“%(label)s” cannot be %(value)s: write from %(low)s to %(high)s."
    ),
    "gear_choice": gettext_lazy("“%(label)s”: “%(value)s” is none of those that are offered."),
    "zoom_reversed": gettext_lazy(
        "A zoom reaches from its shorter end to its longer: %(longest)s mm is not longer than"
        " %(shortest)s mm."
    ),
}


def label(name: str) -> str:
    return str(FIELD_WORDS.get(name, name))


def choice_words(name: str, choice: str) -> str:
    return str(CHOICE_WORDS[name, choice])
