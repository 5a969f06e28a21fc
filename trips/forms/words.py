"""What forms say where something is missing or cannot be: what would be right, in one sentence."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

Words = dict[str, Any]  # code of a mistake → its sentence

_TEXT: Words = {
    "required": _("Nothing is written here; fill it in."),
    "max_length": _("Write at most %(limit_value)d characters; these are %(show_value)d."),
    "null_characters_not_allowed": _("There is a sign in it that cannot be kept; take it out."),
}
_MAIL: Words = _TEXT | {
    "required": _("No mail address is written here; write it like a@b.example."),
    "invalid": _("No letter would arrive there; write it like a@b.example."),
}
_CHOICE: Words = {
    "required": _("Nothing is chosen; choose one."),
    "invalid_choice": _("“%(value)s” is not among the choices; choose one of the list."),
}
_CHOICES: Words = {
    "required": _("Nothing is chosen; choose at least one."),
    "invalid_choice": _("“%(value)s” is not among the choices; choose from the list."),
    "invalid_pk_value": _("“%(pk)s” is not among the choices; choose from the list."),
}
_DATE: Words = {
    "required": _("No date is written here; write it like 2027-03-09."),
    "invalid": _("That is no date of the calendar; write it like 2027-03-09."),
}
_WHOLE: Words = {
    "required": _("No number is written here; write a whole one, like 3."),
    "invalid": _("That is no whole number; write it like 3."),
    "min_value": _("Too small: write %(limit_value)s or more."),
    "max_value": _("Too large: write %(limit_value)s or less."),
}
# What one field is asked for, where its kind alone says too little.
ASKED: Words = {
    "name": _("Without a name it cannot be found again; write one."),
    "latitude": _("No latitude is written here; write it like 40.4."),
    "longitude": _("No longitude is written here; write it like −1.1."),
    "elevation_m": _("No elevation is written here; write it like 1600."),
    "out_until": _("Nobody would know when to go home; write it like 02:00."),
    "until": _("Nobody would know when to go home; write it like 02:00."),
    "most": _("No number of hours is written here; write it like 4."),
    "most_hours_out": _("No number of hours is written here; write it like 4."),
    "least_hours": _("No number of hours is written here; write it like 2."),
    "sites": _("No site is chosen; choose at least one."),
    "months_open": _("No month is chosen; choose those in which one may be there."),
    "kind": _("No kind is chosen; choose what comes closest."),
    "text": _("Nothing is written here; say what is there and where."),
    "sensor_width_mm": _("No width is written here; choose a size, or write it like 36."),
    "sensor_height_mm": _("No height is written here; choose a size, or write it like 24."),
    "clock": _("No time is written here; write it like 23:40."),
    "meeting_at": _("No hour is written here; write it like 19:30."),
    "ends_at": _("Nobody would know when to go home; write it like 02:00."),
    "at": _("No hour is written here; write it like 21:40."),
    "late_drive_after": _("No hour is written here; write it like 01:00."),
    "f_number": _("No f-number is written here; write it like 2.8."),
    "seconds": _("No exposure time is written here; write the seconds, like 20."),
    "iso": _("No ISO is written here; write it like 3200."),
    "level": _("No level is written here; write it like 0.03 or 3 %."),
    "magnitude": _("No brightness is written here; write it like 21.4."),
    "known_mag": _("No brightness is written here; write it like 21.2."),
}
# The first kind that a field is of gives its words; a field of our own has words of its own.
_KINDS: tuple[tuple[type[forms.Field], Words], ...] = (
    (forms.ModelMultipleChoiceField, _CHOICES),
    (forms.MultipleChoiceField, _CHOICES),
    (forms.ChoiceField, _CHOICE),
    (forms.DateField, _DATE),
    (forms.FloatField, {}),
    (forms.IntegerField, _WHOLE),
    (forms.EmailField, _MAIL),
    (forms.CharField, _TEXT),
)


def word_mistakes(name: str, field: forms.Field) -> None:
    """Replace the framework's sentences of this field, not those that the field brought along."""
    words = next((words for kind, words in _KINDS if isinstance(field, kind)), {})
    if name in ASKED:
        words = words | {"required": ASKED[name]}
    usual = _usual(type(field))
    field.error_messages |= {
        code: said
        for code, said in words.items()
        if field.error_messages.get(code) == usual.get(code)
    }


def _usual(kind: type[forms.Field]) -> dict[str, Any]:
    """Give the sentences of a kind of field, those of its parents included."""
    usual: dict[str, Any] = {}
    for parent in reversed(kind.__mro__):
        usual |= getattr(parent, "default_error_messages", {})
    return usual
