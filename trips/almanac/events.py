"""What falls into nights beside rising and setting: phases, equinoxes, solstices, clocks.

With a place, also what happens in its sky (see sky_events.py).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import Literal, NamedTuple

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.clock import local_noons
from sky.phases import equinoxes_and_solstices, moon_phases
from trips.almanac.happenings import ONE_DAY, Event, at, utc_dates
from trips.almanac.local_time import night_at, to_the_minute
from trips.almanac.places import Place, Positioned, place_of
from trips.almanac.sky_events import sky_happenings

Kind = Literal["new", "full"]
# What a calendar shows; one night by itself tells the quarters too.
NEW_AND_FULL: tuple[Kind, ...] = ("new", "full")
PHASES = {
    "new": gettext_lazy("New Moon"),
    "first_quarter": gettext_lazy("first quarter of the Moon"),
    "full": gettext_lazy("Full Moon"),
    "last_quarter": gettext_lazy("last quarter of the Moon"),
}
DAY_SECONDS = 86_400


class MoonDate(NamedTuple):
    """The date, on the site's calendar, on which the Moon is new or full."""

    date: date
    kind: Kind


def moon_dates(first: date, last: date, zone: str) -> list[MoonDate]:
    """Give the new and full Moons of the nights named `first` to `last`, by their own dates."""
    return sorted(
        MoonDate(to_the_minute(instant, zone).date(), kind)
        for kind in NEW_AND_FULL
        for _night, instant in _moons(first, last, zone, kind)
    )


def events_of(night: date, zone: str) -> tuple[str, ...]:
    """Give the events of one night, the Moon's quarters among them."""
    return events_between(night, night, zone, phases=tuple(PHASES)).get(night, ())


def night_events(site: Positioned, night: date) -> tuple[Event, ...]:
    """Give all that falls into one night at a site, with details and cautions."""
    place = place_of(site)
    plain = (Event("almanac", words) for words in events_of(night, place.zone))
    told = (happening.told() for happening in sky_happenings(night, night, place))
    return (*told, *plain)


def events_between(
    first: date,
    last: date,
    zone: str,
    *,
    phases: Sequence[str] = NEW_AND_FULL,
    place: Place | None = None,
) -> dict[date, tuple[str, ...]]:
    """Give the events of each night that has any, in words with the clock of the zone.

    A place adds the showers, eclipses and close pairs that it sees, as many as a calendar has
    room for.
    """
    found: dict[date, list[str]] = defaultdict(list)
    for kind in phases:
        for night, instant in _moons(first, last, zone, kind):
            found[night].append(at(str(PHASES[kind]), night, instant, zone))
    for instant in equinoxes_and_solstices(*utc_dates(first, last)):
        named = _("equinox") if instant.month in (3, 9) else _("solstice")
        night = night_at(instant, zone)
        if first <= night <= last:
            found[night].append(at(named, night, instant, zone))
    for night, is_forward in _changes(first, last, zone):
        words = _("clocks go forward on %(day)s") if is_forward else _("clocks go back on %(day)s")
        found[night].append(words % {"day": date_format(night + ONE_DAY, "j F")})
    for happening in sky_happenings(first, last, place) if place else ():
        if happening.is_for_calendar:
            found[happening.night].append(happening.words())
    return {night: tuple(words) for night, words in found.items()}


def _moons(first: date, last: date, zone: str, kind: str) -> Iterator[tuple[date, datetime]]:
    """Give the nights of one phase and its instants."""
    for phase in moon_phases(*utc_dates(first, last)):
        night = night_at(phase.instant, zone)
        if phase.kind == kind and first <= night <= last:
            yield night, phase.instant


def _changes(first: date, last: date, zone: str) -> Iterator[tuple[date, bool]]:
    """Give the nights that are no day long, and whether an hour is skipped or repeated."""
    noons = local_noons(zone, first, last)
    for number, length in enumerate((noons[1:] - noons[:-1]).tolist()):
        # A zone that skipped a whole date has a night of no length there: not a change of hours.
        if 0 < length != DAY_SECONDS:
            yield first + timedelta(days=number), length < DAY_SECONDS
