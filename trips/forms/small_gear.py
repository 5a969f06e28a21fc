"""Small things of which nobody brings several: ticked once, kept as pieces."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.gear_words import choice_words
from trips.forms.fields import DecimalField
from trips.planning.gear import (
    Batteries,
    DewHeater,
    Gear,
    Magnifier,
    Piece,
    RedLight,
    Release,
    Tape,
)

MOST = 99
WAYS = ("cable", "radio", "self-timer")
LAMPS = {
    "": gettext_lazy("none"),
    "red": gettext_lazy("comes on red"),
    "white": gettext_lazy("goes through white first"),
}
BOXES = {"dew_heater": DewHeater, "magnifier": Magnifier, "tape": Tape}


class SmallGearForm(forms.Form):
    batteries = DecimalField(
        low=0, high=MOST, example="3", required=False, label=gettext_lazy("Camera batteries"),
        help_text=gettext_lazy("Charged ones, that in the camera among them."),
        widget=forms.TextInput(
            attrs={"inputmode": "numeric", "autocomplete": "off", "size": 3, "data-most": MOST}
        ),
    )  # fmt: skip
    # Buttons beside the number: one less, one more.
    step = forms.ChoiceField(choices=[("less", ""), ("more", "")], required=False)
    release = forms.ChoiceField(
        choices=lambda: [("", _("none")), *((way, choice_words("way", way)) for way in WAYS)],
        required=False, label=gettext_lazy("Remote release"),
    )  # fmt: skip
    red_light = forms.ChoiceField(
        choices=list(LAMPS.items()), required=False, label=gettext_lazy("Headlamp with red light")
    )
    dew_heater = forms.BooleanField(
        required=False, label=gettext_lazy("Warm band against dew, with its battery")
    )
    magnifier = forms.BooleanField(required=False, label=gettext_lazy("Magnifier for the screen"))
    tape = forms.BooleanField(required=False, label=gettext_lazy("Tape for the focus ring"))

    def clean_batteries(self) -> int:
        number = self.cleaned_data["batteries"] or 0
        if number != int(number):
            raise forms.ValidationError(_("Only a whole number will do; write it like 3."))
        return int(number)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if "batteries" in cleaned:
            steps = {"less": -1, "more": 1}.get(cleaned.get("step", ""), 0)
            cleaned["batteries"] = min(max(cleaned["batteries"] + steps, 0), MOST)
        return cleaned

    def wanted(self) -> dict[str, Piece | None]:
        """Give the piece of each kind, or None of what is not brought."""
        said = self.cleaned_data
        return {
            "batteries": Batteries(number=said["batteries"]) if said["batteries"] else None,
            "release": Release(way=said["release"]) if said["release"] else None,
            "red_light": _lamp(said["red_light"]),
            **{name: kind() if said[name] else None for name, kind in BOXES.items()},
        }


def said_of(gear: Gear) -> dict[str, Any]:
    """Give what the form shows of what a person brings."""
    own = Gear(gear.own)
    return {
        "batteries": own.batteries or None,
        "release": own.releases[0].way if own.releases else "",
        "red_light": _told(own.red_lights),
        **{name: bool(own.of(kind)) for name, kind in BOXES.items()},
    }


def _lamp(told: str) -> Piece | None:
    return RedLight(starts_red=told == "red") if told else None


def _told(lamps: tuple[RedLight, ...]) -> str:
    if not lamps:
        return ""
    return "red" if any(lamp.starts_red for lamp in lamps) else "white"
