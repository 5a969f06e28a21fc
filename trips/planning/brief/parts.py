"""The parts of a brief by name, and their two orders: at home and in the field.

A part is what an instructor can write into, what is rendered once, and what a personal plan can
say otherwise. A new one is a line here and a template `trips/brief/_<name>.html`.
"""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _


@dataclass(frozen=True, slots=True)
class Part:
    """`is_text` where it is nothing but paragraphs (`Facts.texts`)."""

    name: str
    title: Promise
    is_text: bool = False


PARTS: dict[str, Part] = {
    part.name: part
    for part in (
        Part("meet", _("Meet")),
        Part("glance", _("The night in short")),
        Part("dangers", _("Dangers")),
        Part("first", _("First frame to try")),
        Part("targets", _("Targets, in order")),
        Part("night", _("The night")),
        Part("sky", _("Whole sky")),
        Part("focus", _("Focus"), is_text=True),
        Part("foreground", _("Foreground frames"), is_text=True),
        Part("tracker", _("Tracker"), is_text=True),
        Part("turn", _("Your turn"), is_text=True),
        Part("bring", _("Clothing and battery"), is_text=True),
        Part("cautions", _("Cautions"), is_text=True),
        Part("help", _("Help")),
        Part("way", _("Way there"), is_text=True),
        Part("permit", _("Permit"), is_text=True),
        Part("second", _("Second spot"), is_text=True),
        Part("rules", _("Who decides")),
    )
}

AT_HOME = tuple(PARTS)
# After the meeting: what is now comes first, made by the page from `night` and `targets`.
IN_THE_FIELD = (
    "dangers", "targets", "sky", "turn", "tracker", "night", "help", "focus", "first",
    "foreground", "cautions", "glance", "meet", "bring", "way", "permit", "second", "rules",
)  # fmt: skip
