"""The controls of a season's page: what is wished for now, read from the address and written to it.

What is not in the address is as the season has it, and so is what cannot be read: the form says
why.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import time
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.forms.evenings import write_evenings
from trips.forms.fields import (
    DAY_NAMES,
    LONGEST_TEXT,
    ClockField,
    DecimalField,
    EveningsField,
    WeekdaysField,
    hours_refused,
)
from trips.forms.words import word_mistakes
from trips.models import Season, TargetList
from trips.planning.nights import LONGEST_RUN, Wishes
from trips.services.seasons import as_wished, choosable_lists

# A name in the address → what it is of the wishes.
NAMES = {
    "run": "run_length",
    "days": "weekdays",
    "from": "out_from",
    "until": "out_until",
    "most": "most_hours_out",
    "dark": "dark_level",
    "avoid": "avoid",
    "targets": "target_list",
}
LONGEST = {False: 40, True: LONGEST_TEXT}  # of what is typed, so that a mistake can be repeated
ASKED = "asked"  # sent by the form: no weekday in it means none, not all of the season's


class ControlsForm(forms.Form):
    run = forms.TypedChoiceField(
        label=gettext_lazy("Nights in a run"),
        coerce=int,
        choices=[(number, number) for number in range(1, LONGEST_RUN + 1)],
    )
    days = WeekdaysField(label=gettext_lazy("Evenings that suit"))
    until = ClockField(label=gettext_lazy("Out until"))
    most = DecimalField(
        label=gettext_lazy("At most, hours"),
        low=0.5,
        high=24,
        example="4",
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off", "size": 5}),
    )
    dark = forms.TypedChoiceField(
        label=gettext_lazy("Dark when"), coerce=int, choices=Season.DarkLevel.choices
    )
    avoid = EveningsField(
        label=gettext_lazy("Dates to avoid"),
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text=gettext_lazy("Such as 25–28 March, November to February."),
    )

    targets = forms.TypedChoiceField(
        label=gettext_lazy("Wanted targets"), required=False, coerce=int, empty_value=None
    )

    def __init__(self, season: Season, **options: Any) -> None:
        super().__init__(auto_id="wish_%s", label_suffix="", **options)
        # Its name in the address is a word that Python keeps to itself.
        self.fields["from"] = ClockField(
            label=gettext_lazy("Out from"),
            required=False,
            help_text=gettext_lazy("Empty: civil dusk."),
        )
        self.fields["from"].widget.attrs["placeholder"] = _("dusk")
        self.fields["avoid"].within(season.first_night, season.last_night)  # type: ignore[attr-defined]
        self.fields["targets"].choices = [  # type: ignore[attr-defined]
            ("", _("the dark alone")),
            *choosable_lists(season).values_list("pk", "name"),
        ]
        for name, field in self.fields.items():
            word_mistakes(name, field)
        self.fields["run"].error_messages["invalid_choice"] = _(
            "“%(value)s” is not a number of nights from 1 to 14."
        )
        self.fields["dark"].error_messages["invalid_choice"] = _(
            "“%(value)s” is no dark level; there are −18, −15 and −12."
        )
        self.fields["targets"].error_messages["invalid_choice"] = _(
            "“%(value)s” is not a list of targets of yours."
        )

    def clean(self) -> dict[str, Any]:
        """Refuse hours that end before they begin; from dusk on nobody knows before the night."""
        cleaned = super().clean() or {}
        refused = hours_refused(cleaned.get("from"), cleaned.get("until"))
        if refused:
            self.add_error("until", refused)
            self.cleaned_data.pop("from", None)
        return self.cleaned_data


@dataclass(frozen=True, slots=True)
class Controls:
    """The form as it was asked for, the wishes that hold, and what of it could not be read."""

    form: ControlsForm
    wishes: Wishes
    mistakes: tuple[str, ...]

    @property
    def target_list(self) -> TargetList | None:
        """Give the list that is wanted; None: the dark alone counts."""
        wanted = self.wishes.target_list
        return None if wanted is None else TargetList.objects.get(pk=wanted)


def read_controls(asked: QueryDict, season: Season) -> Controls:
    stored = Wishes.of(season)
    form = ControlsForm(season, data=_filled(asked, stored))
    form.is_valid()
    read = {NAMES[name]: value for name, value in form.cleaned_data.items()}
    if "weekdays" in read:
        read["weekdays"] = frozenset(read["weekdays"])
    wishes = Wishes(**{each.name: getattr(stored, each.name) for each in fields(Wishes)} | read)
    return Controls(form, wishes, tuple(_mistakes(form)))


def wished_query(asked: QueryDict, season: Season) -> tuple[Season, dict[str, Any]]:
    """Give the season as the address wishes it, and what other addresses must say to wish so."""
    wishes = read_controls(asked, season).wishes
    return as_wished(season, wishes), write_controls(wishes, season)


def write_controls(wishes: Wishes, season: Season) -> dict[str, Any]:
    """Give what an address must say for these wishes: only what differs from the season's own."""
    stored, now = _written(Wishes.of(season)), _written(wishes)
    return {name: value for name, value in now.items() if value != stored[name]}


def _filled(asked: QueryDict, stored: Wishes) -> QueryDict:
    """Fill in what was not asked for as the season has it."""
    filled = QueryDict(mutable=True)
    for name, value in _written(stored).items():
        given = name in asked or (name == "days" and ASKED in asked)
        values = asked.getlist(name) if given else value if isinstance(value, list) else [value]
        filled.setlist(name, [each[: LONGEST[name == "avoid"]] for each in values])
    return filled


def _written(wishes: Wishes) -> dict[str, Any]:
    return {
        "run": str(wishes.run_length),
        "days": [DAY_NAMES[day] for day in sorted(wishes.weekdays)],
        "from": _clock(wishes.out_from),
        "until": _clock(wishes.out_until),
        "most": f"{wishes.most_hours_out:g}",
        "dark": str(wishes.dark_level),
        "avoid": write_evenings(wishes.avoid),
        "targets": "" if wishes.target_list is None else str(wishes.target_list),
    }


def _clock(hour: time | None) -> str:
    return f"{hour:%H:%M}" if hour else ""


def _mistakes(form: ControlsForm) -> list[str]:
    return [
        _("%(field)s: %(error)s The season's own is used.")
        % {"field": form.fields[name].label, "error": error}
        for name, errors in form.errors.items()
        for error in errors
    ]
