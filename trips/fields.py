"""Fields that two forms share: weekdays, and stretches of evenings."""

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

    def prepare_value(self, value: Any) -> Any:
        return [DAY_NAMES[day] if isinstance(day, int) else day for day in value or ()]


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
