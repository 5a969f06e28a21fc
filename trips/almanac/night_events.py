"""What falls into one night beside rising and setting: phases, equinoxes, solstices, clocks."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.clock import FIRST_DAY, LAST_DAY
from sky.phases import equinoxes_and_solstices, moon_phases
from trips.almanac.local_time import clock, local
from trips.models import Night

PHASES = {
    "new": gettext_lazy("New Moon"),
    "first_quarter": gettext_lazy("First quarter of the Moon"),
    "full": gettext_lazy("Full Moon"),
    "last_quarter": gettext_lazy("Last quarter of the Moon"),
}
MINUTE = timedelta(minutes=1)


def events_of(row: Night, zone: str) -> list[str]:
    """Give the night's events in words, each with its time where it has one."""
    return [*_phases(row, zone), *_turns(row, zone), *_clocks(row, zone)]


def _phases(row: Night, zone: str) -> Iterator[str]:
    for phase in moon_phases(*_dates(row)):
        if row.start <= phase.instant < row.end:
            yield _at(str(PHASES[phase.kind]), phase.instant, zone)


def _turns(row: Night, zone: str) -> Iterator[str]:
    for instant in equinoxes_and_solstices(*_dates(row)):
        if row.start <= instant < row.end:
            named = _("Equinox") if instant.month in (3, 9) else _("Solstice")
            yield _at(named, instant, zone)


def _clocks(row: Night, zone: str) -> Iterator[str]:
    before, after = (local(at, zone).utcoffset() for at in (row.start, row.end))
    if before is None or after is None or before == after:
        return
    length = f"{(row.end - row.start) / timedelta(hours=1):g}"
    words = {"minutes": abs(after - before) // MINUTE, "hours": number_format(length)}
    if after > before:
        yield _("Clocks go forward %(minutes)d minutes: the night is %(hours)s\u00a0h long") % words
    else:
        yield _("Clocks go back %(minutes)d minutes: the night is %(hours)s\u00a0h long") % words


def _dates(row: Night) -> tuple[date, date]:
    """Give the UTC dates that the night touches, of those that can be computed."""
    return max(row.start.date(), FIRST_DAY), min(row.end.date(), LAST_DAY)


def _at(name: str, instant: datetime, zone: str) -> str:
    return _("%(event)s at %(time)s") % {"event": name, "time": clock(instant, zone)}
