"""Fields that two forms share: weekdays, hours of the clock, stretches of evenings."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.dates import WEEKDAYS_ABBR
from django.utils.translation import gettext_lazy as _

from trips.evenings import Evenings, EveningsError, read_evenings, write_evenings

# In an address a weekday has a name that stays the same in every language.
DAY_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
LONGEST_TEXT = 2000


class WeekdaysField(forms.TypedMultipleChoiceField):
    """Weekdays, Monday as 0."""

    def __init__(self, **options: Any) -> None:
        choices = [(name, WEEKDAYS_ABBR[at]) for at, name in enumerate(DAY_NAMES)]
        super().__init__(
            choices=choices,
            coerce=DAY_NAMES.index,
            widget=forms.CheckboxSelectMultiple,
            error_messages={
                "required": _("No evening is chosen; choose at least one day of the week."),
                "invalid_choice": _("“%(value)s” is no weekday; there are mon, tue, … sun."),
            },
            **options,
        )

    def clean(self, value: Any) -> list[int]:
        return sorted(set(super().clean(value)))

    def prepare_value(self, value: Any) -> Any:
        return [DAY_NAMES[day] if isinstance(day, int) else day for day in value or ()]


class ClockField(forms.TimeField):
    """An hour of a 24 h clock, whatever clock the browser's language would show."""

    def __init__(self, **options: Any) -> None:
        typed = {"inputmode": "numeric", "autocomplete": "off", "placeholder": "hh:mm", "size": 5}
        super().__init__(
            widget=forms.TimeInput(attrs=typed, format="%H:%M"),
            input_formats=["%H:%M", "%H.%M", "%H", "%H:%M:%S"],
            error_messages={
                "invalid": _("“%(value)s” is no hour of the day; write it like 21:30.")
            },
            **options,
        )

    def to_python(self, value: Any) -> Any:
        try:
            return super().to_python(value)
        except ValidationError as error:
            error.params = {"value": value}
            raise


class EveningsField(forms.CharField):
    """Stretches of evenings; a date without a year is each one of the season."""

    def __init__(self, **options: Any) -> None:
        super().__init__(required=False, max_length=LONGEST_TEXT, **options)
        self._first = self._last = date.min

    def within(self, first: date, last: date) -> None:
        """Say which season it is."""
        self._first, self._last = first, last

    def to_python(self, value: Any) -> Evenings:  # type: ignore[override]  # dates, not a text
        try:
            return read_evenings(super().to_python(value) or "", self._first, self._last)
        except EveningsError as error:
            raise ValidationError(str(error), code="invalid") from None

    def run_validators(self, value: Any) -> None:
        """Leave out the validators of texts: the value is none."""

    def prepare_value(self, value: Any) -> Any:
        return value if isinstance(value, str) else write_evenings(value or ())
