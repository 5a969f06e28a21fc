"""Fields for instants on the clocks of a site: typed there, kept in UTC."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.dateparse import parse_datetime
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.dates import FIRST_DAY, LAST_DAY
from trips.almanac.local_time import local
from trips.almanac.readings import instant_at, instant_of
from trips.forms.fields import ClockField

UTC_NAME = "UTC"


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


class SiteMomentField(ClockField):
    """An hour of a day, on the clocks of a site: alone of the day that `on` says, `days_later`
    than its evening; of another day with its date before it."""

    default_error_messages = {
        "invalid": gettext_lazy(
            "“%(value)s” is no hour of the day; write it like 16:00, or with its date like "
            "2027-07-01 16:00."
        )
    }

    def __init__(self, *, days_later: int = 0, **options: Any) -> None:
        super().__init__(**options)
        self.error_messages |= self.default_error_messages
        self.widget.attrs["size"] = 16
        self.days_later = timedelta(days=days_later)
        self.day: date | None = None
        self.zone = UTC_NAME

    def on(self, evening: date | None, zone: str) -> None:
        self.day, self.zone = evening and evening + self.days_later, zone

    def to_python(self, value: Any) -> datetime | None:  # type: ignore[override]  # with its day
        typed = _dated(value) or self._on_the_day(super().to_python(value))
        if typed is None:
            return None
        _check_year(typed.date())
        return _existing(instant_at(typed, self.zone))

    def _on_the_day(self, clock: time | None) -> datetime | None:
        return datetime.combine(self.day, clock) if self.day and clock else None

    def prepare_value(self, value: Any) -> Any:
        return self.in_words(value) if isinstance(value, datetime) else value

    def in_words(self, value: datetime | None) -> str:
        if value is None:
            return _("empty")
        there = local(value, self.zone)
        return f"{there:%H:%M}" if there.date() == self.day else f"{there:%Y-%m-%d %H:%M}"


def _dated(value: Any) -> datetime | None:
    """Read a date with an hour; one with an offset would say where it is, and is none."""
    text = str(value).strip()
    try:
        typed = parse_datetime(text) if ":" in text else None
    except ValueError:
        return None
    return typed if typed and typed.tzinfo is None else None


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
