"""Fields of forms: numbers, weekdays, hours of the clock, stretches of evenings."""

from __future__ import annotations

import math
from datetime import date, time
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.dates import WEEKDAYS_ABBR
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.charts.bands import minutes_after_noon
from trips.forms.evenings import Evenings, EveningsError, read_evenings, write_evenings
from trips.numbers import in_figures

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
                "required": gettext_lazy(
                    "No evening is chosen; choose at least one day of the week."
                ),
                "invalid_choice": gettext_lazy(
                    "“%(value)s” is no weekday; there are mon, tue, … sun."
                ),
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
                "invalid": gettext_lazy("“%(value)s” is no hour of the day; write it like 21:30.")
            },
            **options,
        )

    def to_python(self, value: Any) -> Any:
        try:
            return super().to_python(value)
        except ValidationError as error:
            error.params = {"value": value}
            raise


def as_number(text: str) -> float | None:
    """Read a number with a point or a comma and any minus sign; None where it is none."""
    try:
        # Python would read 4_0 as forty; nobody who types it means that.
        number = float(text.strip().replace("−", "-").replace(",", ".").replace("_", "?"))
    except ValueError:
        return None
    return number if math.isfinite(number) else None


class DecimalField(forms.FloatField):
    """A number as people write it: 40.4, 40,4, −1.1. `example` is one that would be right; a mark
    of `marks`, such as its unit, may stand before or after it."""

    widget = forms.TextInput

    def __init__(
        self, *, low: float, high: float, example: str, marks: tuple[str, ...] = (), **options: Any
    ) -> None:
        self.low, self.high, self.example, self.marks = low, high, example, marks
        super().__init__(**options)

    def to_python(self, value: Any) -> float | None:  # type: ignore[override]
        if value in self.empty_values:
            return None
        number = as_number(_unmarked(str(value), self.marks))
        if number is None:
            raise ValidationError(
                _("“%(value)s” is not a number; write it like %(example)s."),
                params={"value": value, "example": self.example},
            )
        return number

    def prepare_value(self, value: Any) -> Any:
        """Show 1850, not 1850.0."""
        return f"{value:.10g}" if isinstance(value, float) else value

    def validate(self, value: Any) -> None:
        super().validate(value)
        if value is not None and not self.low <= value <= self.high:
            raise ValidationError(
                _("%(value)s is out of range: it must be from %(low)s to %(high)s."),
                params={
                    "value": in_figures(value),
                    "low": in_figures(self.low),
                    "high": in_figures(self.high),
                },
            )


def _unmarked(text: str, marks: tuple[str, ...]) -> str:
    """Give a number without the one mark that it was copied with: "24" of "24 mm"."""
    text = text.strip().lower()
    for mark in marks:
        if text.startswith(mark) or text.endswith(mark):
            return text.removeprefix(mark).removesuffix(mark)
    return text


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


def hours_refused(start: time | None, end: time | None) -> str:
    """Say why nobody can be out in these hours; "" where they can. Dusk is not known before."""
    if start is None or end is None or minutes_after_noon(end) > minutes_after_noon(start):
        return ""
    words = _("“%(end)s” is not after %(start)s: nobody would be out at all.")
    return words % {"end": f"{end:%H:%M}", "start": f"{start:%H:%M}"}
