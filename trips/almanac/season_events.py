"""What falls into the nights of a season: new and full Moons, equinoxes, solstices, clocks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import Any, Literal, NamedTuple

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.clock import local_noons
from sky.phases import equinoxes_and_solstices, moon_phases
from trips.almanac.local_time import clock, night_at

Kind = Literal["new", "full"]
PHASES: dict[Kind, Any] = {"new": gettext_lazy("New Moon"), "full": gettext_lazy("Full Moon")}
DAY_SECONDS = 86_400


class MoonDate(NamedTuple):
    """The night in which the Moon is new or full."""

    date: date
    kind: Kind


def moon_dates(first: date, last: date, zone: str) -> list[MoonDate]:
    """Give the new and full Moons of the nights named `first` to `last`, in order."""
    return [MoonDate(night, kind) for night, _instant, kind in _moons(first, last, zone)]


def season_events(first: date, last: date, zone: str) -> dict[date, tuple[str, ...]]:
    """Give the events of each night that has any, in words with the clock of the zone."""
    found: dict[date, list[str]] = defaultdict(list)
    for night, instant, kind in _moons(first, last, zone):
        found[night].append(_at(str(PHASES[kind]), instant, zone))
    for instant in equinoxes_and_solstices(first, last):
        named = _("equinox") if instant.month in (3, 9) else _("solstice")
        found[night_at(instant, zone)].append(_at(named, instant, zone))
    for night, is_forward in _changes(first, last, zone):
        found[night].append(_("clocks go forward") if is_forward else _("clocks go back"))
    return {night: tuple(words) for night, words in found.items()}


def _moons(first: date, last: date, zone: str) -> Iterator[tuple[date, datetime, Kind]]:
    kinds = {str(kind): kind for kind in PHASES}
    for phase in moon_phases(first, last + timedelta(days=1)):
        night, kind = night_at(phase.instant, zone), kinds.get(phase.kind)
        if kind and first <= night <= last:
            yield night, phase.instant, kind


def _changes(first: date, last: date, zone: str) -> Iterator[tuple[date, bool]]:
    """Give the nights that are no day long, and whether an hour is skipped or repeated."""
    noons = local_noons(zone, first, last)
    for at, length in enumerate((noons[1:] - noons[:-1]).tolist()):
        # A zone that skipped a whole date has a night of no length there: not a change of hours.
        if 0 < length != DAY_SECONDS:
            yield first + timedelta(days=at), length < DAY_SECONDS


def _at(name: str, instant: datetime, zone: str) -> str:
    return f"{name} {clock(instant, zone)}"
