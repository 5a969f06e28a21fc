"""How long forms are laid out: fields in groups, folded until needed; errors listed at the top."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from typing import Any

from django import forms
from django.db import models
from django.forms.boundfield import BoundField
from django.forms.utils import ErrorDict
from django.utils.formats import date_format
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.forms.words import word_mistakes

NAMES_SHOWN = 8


@dataclass(frozen=True, slots=True)
class Group:
    """Some fields under a heading; a folded one opens when it holds an error or a value."""

    name: str
    heading: str | Promise
    fields: tuple[str, ...]
    hint: str | Promise = ""
    is_folded: bool = True


@dataclass(frozen=True, slots=True)
class ShownField:
    bound: BoundField
    stored: str | None  # what is stored now, in words, where it differs from what was typed


@dataclass(frozen=True, slots=True)
class ShownGroup:
    group: Group
    fields: list[ShownField]
    is_open: bool


@dataclass(frozen=True, slots=True)
class Mistake:
    """An error with the field it belongs to; without one it is about the whole form."""

    address: str
    label: str
    words: str


SITE_GROUPS = (
    Group(
        "place",
        gettext_lazy("The place"),
        ("name", "latitude", "longitude", "elevation_m"),
        is_folded=False,
    ),
    Group(
        "access",
        gettext_lazy("Access and road"),
        (
            "night_access",
            "drive_minutes",
            "vehicle",
            "largest_group",
            "permit_number",
            "permit_lead_days",
            "road_closed_from",
            "road_closed_to",
            "months_open",
        ),
        gettext_lazy("Who may be there at night, when, with whom, and how one gets there."),
    ),
    Group(
        "darkness",
        gettext_lazy("Darkness, as measured"),
        ("sky_brightness", "sky_measured_on", "sky_circumstances"),
        gettext_lazy("Only what somebody measured: nothing is estimated here."),
    ),
    Group(
        "usable",
        gettext_lazy("The air, and what counts as usable dark"),
        ("extinction", "usable_loss_mag"),
        gettext_lazy("To be left as they are, unless you know better."),
    ),
    Group(
        "help",
        gettext_lazy("Help and phone"),
        (
            "phone_coverage",
            "nearest_signal",
            "nearest_help",
            "minutes_to_help",
            "emergency_number",
        ),
        gettext_lazy("What a leader needs when something goes wrong."),
    ),
    Group(
        "about",
        gettext_lazy("Clock, country, coast"),
        ("zone", "country", "on_coast", "position_is_sensitive"),
        gettext_lazy("The clock is found from the position."),
    ),
    Group("notes", gettext_lazy("Notes"), ("notes",)),
)

SEASON_GROUPS = (
    Group(
        "dates",
        gettext_lazy("Name and dates"),
        ("name", "first_night", "last_night"),
        is_folded=False,
    ),
    Group("sites", gettext_lazy("Sites"), ("sites",), is_folded=False),
    Group(
        "targets",
        gettext_lazy("What to point at"),
        ("target_list",),
        gettext_lazy("A list of targets that the nights are ranked by."),
    ),
    Group(
        "hours",
        gettext_lazy("When you are out"),
        ("out_from", "out_until", "most_hours_out"),
        gettext_lazy(
            "Only what falls into these hours counts as usable: the wanted targets, or without "
            "a list the moonless dark."
        ),
        is_folded=False,
    ),
    Group(
        "runs",
        gettext_lazy("Runs and evenings"),
        ("run_length", "weekdays", "avoid"),
        gettext_lazy("The season's page can ask for others at any time."),
    ),
    Group(
        "good",
        gettext_lazy("What counts as dark, and as a candidate night"),
        ("dark_level", "least_hours"),
    ),
)

_DECIMAL = {"inputmode": "text", "autocomplete": "off", "spellcheck": "false"}
_WHOLE = {"inputmode": "numeric", "min": "0"}
ATTRIBUTES: dict[str, dict[str, str]] = {
    # The keypads of phones for decimals have no minus sign.
    "latitude": _DECIMAL,
    "longitude": _DECIMAL,
    "elevation_m": {"inputmode": "decimal", "autocomplete": "off"},
    "sky_brightness": {"inputmode": "decimal", "autocomplete": "off"},
    "extinction": {"inputmode": "decimal", "autocomplete": "off"},
    "usable_loss_mag": {"inputmode": "decimal", "autocomplete": "off"},
    "drive_minutes": _WHOLE,
    "largest_group": {"inputmode": "numeric", "min": "1"},
    "permit_lead_days": _WHOLE,
    "minutes_to_help": _WHOLE,
    "emergency_number": {"inputmode": "tel", "autocomplete": "off"},
    "tripods": {"inputmode": "numeric", "min": "1"},
    "walk_minutes": _WHOLE,
    "name": {"autocomplete": "off", "dir": "auto"},
    "zone": {"autocomplete": "off", "spellcheck": "false", "placeholder": "Europe/Madrid"},
    "country": {"autocomplete": "off", "maxlength": "2"},
    "notes": {"rows": "4", "dir": "auto"},
    "most_hours_out": {"inputmode": "decimal", "autocomplete": "off"},
    "least_hours": {"inputmode": "decimal", "autocomplete": "off"},
}


def dress(form: forms.BaseForm) -> None:
    """Tell browsers what each field takes, and people what would be right."""
    for name, field in form.fields.items():
        field.widget.attrs.update(ATTRIBUTES.get(name, {}))
        word_mistakes(name, field)
    if isinstance(form, forms.ModelForm):
        _take_limits(form)


def _take_limits(form: forms.ModelForm) -> None:  # type: ignore[type-arg]
    """Hold whole numbers to what the model asks; by itself a field asks what a column can hold."""
    for name in form.fields.keys() - form.declared_fields.keys():
        if isinstance(form.fields[name], forms.IntegerField):
            form.fields[name].validators = list(form._meta.model._meta.get_field(name).validators)


def laid_out(
    form: forms.BaseForm, groups: Sequence[Group], stored: Mapping[str, str] | None = None
) -> list[ShownGroup]:
    """Sort the form's fields into groups."""
    beside = stored or {}
    return [
        ShownGroup(
            group,
            [ShownField(form[name], beside.get(name)) for name in group.fields],
            is_open=any(
                name in beside or form[name].errors or _is_filled(form[name])
                for name in group.fields
            ),
        )
        for group in groups
    ]


def mistakes(form: forms.BaseForm) -> list[Mistake]:
    """List the form's errors in the order of its fields, those of the whole form first."""
    if not form.is_bound:
        return []
    whole = [Mistake("", "", str(words)) for words in form.non_field_errors()]
    return whole + [
        Mistake(f"#{first_id(bound)}", str(bound.label), str(words))
        for bound in form
        for words in bound.errors
    ]


def first_id(bound: BoundField) -> str:
    """A group of checkboxes has no field of its own name: its first box is gone to."""
    return f"{bound.auto_id}_0" if bound.use_fieldset else str(bound.auto_id)


def without_judging(form: forms.BaseForm) -> None:
    """Show a form as it was typed without looking for errors: nothing is being saved."""
    form._errors = ErrorDict()  # type: ignore[attr-defined]  # its stubs leave it out


def _is_filled(bound: BoundField) -> bool:
    """Tell whether a field says more than a new form would; a zone is found for every site."""
    if bound.name == "zone":
        return False
    usual = _usual(bound)
    return plain(bound.value()) not in ("", plain(usual))


def _usual(bound: BoundField) -> Any:
    form = bound.form
    if not isinstance(form, forms.ModelForm) or bound.name not in (form._meta.fields or ()):
        return bound.field.initial
    default = form._meta.model._meta.get_field(bound.name).get_default()
    return bound.field.prepare_value(default)


def plain(value: Any) -> str:
    """Give a value as it would stand in a form, so that typed and stored ones can be compared.

    A list is a choice of several, in any order; a list in a list keeps its own, as points do.
    """
    if value is None or value is False or value in ("", [], ()):
        return ""
    if isinstance(value, (list, tuple, models.QuerySet)):
        return ",".join(sorted(_plain_in_list(each) for each in value))
    if isinstance(value, models.Model):
        return str(value.pk)
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, time):
        return f"{value:%H:%M}"
    return str(value).replace("\r\n", "\n")  # as browsers send what was stored with \n


def _plain_in_list(value: Any) -> str:
    return " ".join(map(plain, value)) if isinstance(value, list) else plain(value)


def in_words(of: forms.Field, value: Any) -> str:
    """Say a stored value as a person would read it in the form."""
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if hasattr(of, "in_words"):
        return str(of.in_words(value))
    if isinstance(value, date):
        return date_format(value, "j F Y")
    if isinstance(value, time):
        return f"{value:%H:%M}"
    shown = of.prepare_value(value)
    if shown in (None, "", [], ()):
        return _("empty")
    labels = dict(getattr(of, "choices", ()))
    names = [str(labels.get(each, plain(each))) for each in _listed(shown)]
    return ", ".join(names[:NAMES_SHOWN]) + _and_more(len(names) - NAMES_SHOWN)


def _listed(value: Any) -> Sequence[Any]:
    return value if isinstance(value, (list, tuple)) else [value]


def _and_more(count: int) -> str:
    return _(" and %(count)d more") % {"count": count} if count > 0 else ""
