"""Fields for instants on the clocks of a site: typed there, kept in UTC."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.dateparse import parse_datetime
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.dates import FIRST_DAY, LAST_DAY
from trips.almanac.local_time import local
from trips.almanac.readings import instant_at, instant_of
from trips.forms.fields import ClockField

UTC_NAME = "UTC"
INPUT = "%Y-%m-%dT%H:%M"


class NightClockField(ClockField):
    """An hour of one night; before noon it is the next morning. `on` says which night, where."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**options)
        self.evening: date | None = None
        self.zone = UTC_NAME

    def on(self, evening: date | None, zone: str) -> None:
        self.evening, self.zone = evening, zone

    def clean(self, value: Any) -> Any:
        clock = super().clean(value)
        if clock is None or self.evening is None:
            return None
        _check_year(self.evening)
        return _existing(instant_of(self.evening, clock, self.zone))

    def prepare_value(self, value: Any) -> Any:
        return f"{local(value, self.zone):%H:%M}" if isinstance(value, datetime) else value

    def in_words(self, value: datetime | None) -> str:
        return f"{local(value, self.zone):%H:%M}" if value else _("empty")


class SiteMomentField(forms.Field):
    """A date and hour on the clocks of a site. `at` says which."""

    widget = forms.DateTimeInput(format=INPUT, attrs={"type": "datetime-local"})
    default_error_messages = {
        "required": gettext_lazy("No time is written here; write it like 2027-07-02 16:00."),
        "invalid": gettext_lazy(
            "That is no date with an hour of the day; write it like 2027-07-02 16:00."
        ),
    }

    def __init__(self, **options: Any) -> None:
        super().__init__(**options)
        self.zone = UTC_NAME

    def at(self, zone: str) -> None:
        self.zone = zone

    def to_python(self, value: Any) -> datetime | None:
        if value in self.empty_values:
            return None
        typed = _read(str(value))
        if typed is None or typed.tzinfo is not None:
            raise ValidationError(self.error_messages["invalid"], code="invalid")
        _check_year(typed.date())
        return _existing(instant_at(typed, self.zone))

    def prepare_value(self, value: Any) -> Any:
        return f"{local(value, self.zone):{INPUT}}" if isinstance(value, datetime) else value

    def in_words(self, value: datetime | None) -> str:
        if value is None:
            return _("empty")
        there = local(value, self.zone)
        return f"{date_format(there, 'j F Y')}, {there:%H:%M}"


def _read(text: str) -> datetime | None:
    try:
        return parse_datetime(text.strip())
    except ValueError:
        return None


def _check_year(day: date) -> None:
    if not FIRST_DAY <= day <= LAST_DAY:
        words = _("That is outside the years that are computed, %(first)d to %(last)d.")
        raise ValidationError(words % {"first": FIRST_DAY.year, "last": LAST_DAY.year})


def _existing(instant: datetime | None) -> datetime:
    if instant is None:
        raise ValidationError(
            _("The clocks are put forward over that hour: write one before or after it.")
        )
    return instant
