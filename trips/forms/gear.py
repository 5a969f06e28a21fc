"""What people type about a piece of gear: one form a kind, made from what the kind says of itself.

Cameras and lenses are asked as they are printed: a sensor by its usual name, a zoom as 24-70.
"""

from __future__ import annotations

from dataclasses import MISSING, Field
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.camera_words import projection_choices, sensor_choices
from trips.almanac.gear_words import FIELD_WORDS, HELP_WORDS, choice_words
from trips.almanac.sensors import COMMON_SENSORS, common_sensor
from trips.almanac.wording import SkyError, sentence
from trips.forms.fields import DecimalField
from trips.forms.joining import OneLineField
from trips.forms.layout import Group, dress
from trips.forms.limited import typed_number
from trips.forms.ranges import RangeField
from trips.planning.gear import KINDS, Camera, Lens, Piece, read, written
from trips.planning.gear.piece import Choice, Figure, said

LONGEST_NAME = 80
# Which field a refusal of the whole belongs to, by how its code begins.
BELONGS = {
    "focal_length": "focal",
    "zoom": "focal",
    "f_number": "widest",
    "sensor_pixels": "pixels_wide",
    "sensor": "sensor",
}


class GearForm(forms.Form):
    """A piece of a kind; once valid, `piece` is it. Errors are in the words of `wording`."""

    name = OneLineField(
        max_length=LONGEST_NAME, required=False, label=gettext_lazy("What you call it")
    )

    def __init__(self, kind: str, *args: Any, piece: Piece | None = None, **options: Any) -> None:
        self.kind, self.piece = kind, piece
        options.setdefault("initial", self.said_of(piece) if piece else {})
        options.setdefault("label_suffix", "")
        super().__init__(*args, **options)
        self.fields.update(self.own_fields())
        # In the order in which they are asked.
        self.names = tuple(self.fields)
        dress(self)
        # A number that may be left out, or follows from another: a browser must let it be empty.
        self.use_required_attribute = False

    def groups(self) -> tuple[Group, ...]:
        return (Group("piece", "", self.names, is_folded=False),)

    def own_fields(self) -> dict[str, forms.Field]:
        return {one.name: _field(one) for one in said(KINDS[self.kind])}

    def said_of(self, piece: Piece) -> dict[str, Any]:
        return {"name": piece.name, **written(piece)}

    def spec(self, cleaned: dict[str, Any]) -> dict[str, Any]:
        """Give what was typed as the kind has it."""
        return {one.name: _value(one, cleaned.get(one.name)) for one in said(KINDS[self.kind])}

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if not self.errors:
            try:
                self.piece = read(self.kind, self.spec(cleaned), name=cleaned["name"])
            except SkyError as error:
                self.add_error(self._where(error), sentence(error))
        return cleaned

    def _where(self, error: SkyError) -> str | None:
        named = str(error.fields.get("field", ""))
        if named in self.fields:
            return named
        found = (name for code, name in BELONGS.items() if error.code.startswith(code))
        return next((name for name in found if name in self.fields), None)


class CameraGearForm(GearForm):
    """A sensor by name with its usual pixels, or by its millimetres; pixels are square."""

    def own_fields(self) -> dict[str, forms.Field]:
        of_kind = super().own_fields()
        of_kind.pop("pixels_high")
        sensor = forms.ChoiceField(
            choices=[*sensor_choices(), ("", _("another, as typed below"))],
            required=False,
            initial="full-frame",
            label=gettext_lazy("Sensor"),
            help_text=gettext_lazy("Its manual says which; a phone’s main camera is one too."),
        )
        for name in ("sensor_width_mm", "sensor_height_mm", "pixels_wide"):
            of_kind[name].required = False
        order = ("pixels_wide", "top_iso", "weight_kg", "sensor_width_mm", "sensor_height_mm")
        return {"sensor": sensor, **{name: of_kind[name] for name in order}}

    def groups(self) -> tuple[Group, ...]:
        asked = ("name", "sensor", "pixels_wide", "top_iso", "weight_kg")
        return (
            Group("piece", "", asked, is_folded=False),
            Group(
                "sensor", gettext_lazy("Another sensor"), ("sensor_width_mm", "sensor_height_mm"),
                gettext_lazy("Only where none of the list is yours."),
            ),
        )  # fmt: skip

    def said_of(self, piece: Piece) -> dict[str, Any]:
        told = super().said_of(piece)
        if isinstance(piece, Camera):
            told["sensor"] = _named_sensor(piece)
            if told["sensor"]:
                del told["sensor_width_mm"], told["sensor_height_mm"]
        return told

    def spec(self, cleaned: dict[str, Any]) -> dict[str, Any]:
        chosen = common_sensor(cleaned["sensor"])
        told = {name: cleaned[name] for name in ("top_iso", "weight_kg")}
        width, height, pixels = (
            cleaned[name] for name in ("sensor_width_mm", "sensor_height_mm", "pixels_wide")
        )
        if chosen:
            width, height, pixels = chosen.width_mm, chosen.height_mm, pixels or chosen.pixels_wide
        high = round(pixels * height / width) if width and height and pixels else None
        return told | {
            "sensor_width_mm": width,
            "sensor_height_mm": height,
            "pixels_wide": _whole(pixels),
            "pixels_high": high,
            "top_iso": _whole(told["top_iso"]),
        }

    def clean_sensor(self) -> str:
        """Refuse two sizes at once: nobody could say which is meant."""
        sensor = str(self.cleaned_data["sensor"])
        typed = [self.data.get(name, "") for name in ("sensor_width_mm", "sensor_height_mm")]
        if sensor and any(typed):
            raise ValidationError(
                _("Millimetres are typed below as well: leave them empty, or choose “another”.")
            )
        if not sensor and not all(typed):
            raise ValidationError(_("Choose one, or open “Another sensor” and type its sides."))
        return sensor


class LensGearForm(GearForm):
    def own_fields(self) -> dict[str, forms.Field]:
        of_kind = super().own_fields()
        return {
            "focal": RangeField(
                example="24", marks=("mm",), label=gettext_lazy("Focal length (mm)"),
                help_text=gettext_lazy("As written on it: 24, or 24-70 of a zoom."),
            ),
            "widest": RangeField(
                example="2.8", marks=("mm", "f/", "1:", "f"), label=gettext_lazy("Widest aperture"),
                help_text=gettext_lazy("The number after f/ or 1:, such as 2.8 or 3.5-5.6."),
            ),
            "projection": of_kind["projection"],
            "weight_kg": of_kind["weight_kg"],
        }  # fmt: skip

    def groups(self) -> tuple[Group, ...]:
        named = ("name",) if self.fields["name"].required else ()
        rest = tuple(one for one in ("name", "weight_kg", "projection") if one not in named)
        return (
            Group("piece", "", (*named, "focal", "widest"), is_folded=False),
            Group("more", gettext_lazy("More about it"), rest,
                  gettext_lazy("A fisheye; its weight, for a tracker.")),
        )  # fmt: skip

    def said_of(self, piece: Piece) -> dict[str, Any]:
        told = super().said_of(piece)
        if isinstance(piece, Lens):
            told["focal"] = (piece.focal_mm, piece.longest_mm)
            told["widest"] = (piece.widest_f_number, piece.widest_at_longest)
        return told

    def spec(self, cleaned: dict[str, Any]) -> dict[str, Any]:
        focal, longest = cleaned["focal"]
        widest, at_longest = cleaned["widest"]
        return {
            "focal_mm": focal,
            "longest_mm": longest,
            "widest_f_number": widest,
            "widest_at_longest": at_longest if longest is not None else None,
            "projection": cleaned["projection"] or None,
            "weight_kg": cleaned["weight_kg"],
        }


FORMS: dict[str, type[GearForm]] = {"camera": CameraGearForm, "lens": LensGearForm}


def gear_form(kind: str, *args: Any, **options: Any) -> GearForm:
    return FORMS.get(kind, GearForm)(kind, *args, **options)


def _field(one: Field[Any]) -> forms.Field:
    """Make the form's field for what a kind says of itself."""
    rule, label = one.metadata["rule"], FIELD_WORDS[one.name]
    told: dict[str, Any] = {"label": label, "help_text": HELP_WORDS.get(one.name, "")}
    initial = None if one.default is MISSING else one.default
    if isinstance(rule, Figure):
        return DecimalField(
            low=rule.low, high=rule.high, example=f"{_usual(rule):g}", initial=initial,
            required=one.default is MISSING, widget=typed_number(),
            error_messages={"required": _written(f"{_usual(rule):g}")}, **told,
        )  # fmt: skip
    if isinstance(rule, Choice):
        choices = _choices(one.name, rule)
        return forms.ChoiceField(choices=choices, initial=initial, required=False, **told)
    return forms.BooleanField(required=False, initial=initial, **told)


def _choices(name: str, rule: Choice) -> list[tuple[str, str]]:
    if name == "projection":
        return projection_choices()
    return [(word, choice_words(name, word)) for word in rule.words]


def _usual(rule: Figure) -> float:
    return min(max(rule.low, 3), rule.high)


def _written(example: str) -> str:
    return _("No number is written here; write it like %(example)s.") % {"example": example}


def _value(one: Field[Any], typed: Any) -> Any:
    """Give what was typed as the kind has it; None for what was left out."""
    rule = one.metadata["rule"]
    typed = None if typed == "" else typed
    return _whole(typed) if isinstance(rule, Figure) and rule.whole else typed


def _whole(typed: float | None) -> float | int | None:
    """Give 3.0 as 3; the kind refuses 3.5 itself."""
    return int(typed) if typed is not None and typed == int(typed) else typed


def _named_sensor(camera: Camera) -> str:
    sides = camera.sensor_width_mm, camera.sensor_height_mm
    named = (name for name, one in COMMON_SENSORS.items() if (one.width_mm, one.height_mm) == sides)
    return next(named, "")


def kit_form(kind: str, *args: Any, note: str = "", **options: Any) -> GearForm:
    """Give the form of a piece that the club lends: it has a name that people call it by."""
    form = gear_form(kind, *args, **options)
    form.fields["name"].required = True
    form.fields["note"] = forms.CharField(
        max_length=200, required=False, initial=note, label=gettext_lazy("Note"),
        widget=forms.TextInput(attrs={"dir": "auto"}),
    )  # fmt: skip
    dress(form)
    return form
