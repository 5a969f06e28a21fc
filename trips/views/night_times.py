"""All times of a night in the order of the night, with where Sun and Moon then stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from itertools import groupby

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.bearings import bearing, height
from trips.almanac.local_time import local
from trips.almanac.paths import MoonPath, SunPath
from trips.almanac.wording import why_absent
from trips.models import Night
from trips.planning.nights import Block, JudgedNight, Wishes
from trips.templatetags.nights import hours

# Half a minute: what is shorter is not seen in hours and minutes.
LEAST_HOURS = 0.5 / 60
# Event → its name, and how far the Sun is down.
EVENTS = {
    "sunset": (gettext_lazy("Sunset"), 0),
    "civil_dusk": (gettext_lazy("Civil dusk"), 6),
    "nautical_dusk": (gettext_lazy("Nautical dusk"), 12),
    "astronomical_dusk": (gettext_lazy("Astronomical dusk"), 18),
    "astronomical_dawn": (gettext_lazy("Astronomical dawn"), 18),
    "nautical_dawn": (gettext_lazy("Nautical dawn"), 12),
    "civil_dawn": (gettext_lazy("Civil dawn"), 6),
    "sunrise": (gettext_lazy("Sunrise"), 0),
}
# What falls in the evening → its fellow of the morning, and what both are called together.
PAIRS = {
    "sunset": ("sunrise", gettext_lazy("Sunset and sunrise")),
    "civil_dusk": ("civil_dawn", gettext_lazy("Civil dusk and dawn")),
    "nautical_dusk": ("nautical_dawn", gettext_lazy("Nautical dusk and dawn")),
    "astronomical_dusk": ("astronomical_dawn", gettext_lazy("Astronomical dusk and dawn")),
}
PAIRED = {dawn: dusk for dusk, (dawn, _both) in PAIRS.items()}


@dataclass(frozen=True, slots=True)
class Moment:
    """A row of the table: when, what, and where; `instant` None: `detail` says why not."""

    instant: datetime | None
    name: str
    detail: str
    is_wanted: bool = False


@dataclass(frozen=True, slots=True)
class Usable:
    """The block that counts, and in words why it is over."""

    block: Block
    why_it_ends: str


@dataclass(frozen=True, slots=True)
class Day:
    """The moments that fall on one date of the zone."""

    date: date
    moments: tuple[Moment, ...]


def moments_of(
    row: Night, sun: SunPath, moon: MoonPath, *, dark_level: int, usable: Usable | None
) -> list[Moment]:
    """Give every moment; one that does not happen stands where it would follow the one before."""
    placed: list[tuple[datetime, Moment]] = []
    for group in (
        _sun(row, sun, dark_level),
        _dark(row, dark_level),
        _moon(row, moon),
        _usable(usable),
    ):
        after = row.start
        for moment in group:
            after = moment.instant or after
            placed.append((after, moment))
    placed.sort(key=lambda each: each[0])
    return [moment for _instant, moment in placed]


def by_day(moments: Sequence[Moment], row: Night, zone: str) -> list[Day]:
    """Put moments under the dates of a zone; those without an instant stay where they are."""
    dated: list[tuple[date, Moment]] = []
    day = local(row.start, zone).date()
    for moment in moments:
        day = local(moment.instant, zone).date() if moment.instant else day
        dated.append((day, moment))
    return [
        Day(day, tuple(moment for _day, moment in group))
        for day, group in groupby(dated, key=lambda each: each[0])
    ]


def usable_of(judged: JudgedNight | None, wishes: Wishes | None, zone: str) -> Usable | None:
    """Give the usable block of a judged night; None where there is none or none is offered."""
    if judged is None or wishes is None or judged.block is None or judged.why_not:
        return None
    block = judged.block
    if local(block.end, zone).time().replace(second=0, microsecond=0) == wishes.out_until:
        return Usable(block, _("latest hour out"))
    if block.hours >= wishes.most_hours_out - LEAST_HOURS:
        return Usable(block, _("the most that counts in a night"))
    return Usable(block, "")


def _sun(row: Night, sun: SunPath, dark_level: int) -> Iterator[Moment]:
    for name, (label, degrees) in EVENTS.items():
        standing = sun.events.get(name)
        if standing is not None:
            where = bearing(standing.azimuth_degrees)
            if degrees:
                words = {"degrees": degrees, "where": where}
                where = _("Sun %(degrees)d° down, %(where)s") % words
            yield Moment(standing.instant, _named(name, label, degrees == -dark_level), where)
        elif name in PAIRS and PAIRS[name][0] not in sun.events:
            both = PAIRS[name][1]  # one row for dusk and dawn
            yield Moment(None, str(both), _why(row, name))
        elif name not in PAIRED or PAIRED[name] in sun.events:
            yield Moment(None, str(label), _why(row, name))


def _named(event: str, label: object, is_dark_level: bool) -> str:
    if not is_dark_level:
        return str(label)
    words = _("%(event)s, dark begins") if event in PAIRS else _("%(event)s, dark ends")
    return words % {"event": label}


def _dark(row: Night, dark_level: int) -> Iterator[Moment]:
    """Name the edges of the dark where no dusk has its level."""
    if any(degrees == -dark_level for _label, degrees in EVENTS.values()):
        return
    where = _("Sun %(degrees)d° down") % {"degrees": -dark_level}
    spans = getattr(row, f"dark_{-dark_level}")
    for start, end in spans:
        yield Moment(datetime.fromtimestamp(start, UTC), _("Dark begins"), where)
        yield Moment(datetime.fromtimestamp(end, UTC), _("Dark ends"), where)
    if not spans:
        yield Moment(None, _("Dark begins"), _why(row, f"dark_{-dark_level}"))


def _moon(row: Night, moon: MoonPath) -> Iterator[Moment]:
    happens = [
        *(Moment(at.instant, _("Moonrise"), bearing(at.azimuth_degrees)) for at in moon.rises),
        *(Moment(at.instant, _("Moonset"), bearing(at.azimuth_degrees)) for at in moon.sets),
        *_culminations(moon),
    ]
    for name, label in (("moonrise", _("Moonrise")), ("moonset", _("Moonset"))):
        if name in row.absent:
            yield Moment(None, label, _why(row, name))
    yield from sorted(happens, key=lambda moment: moment.instant or row.start)


def _culminations(moon: MoonPath) -> Iterator[Moment]:
    for passage in moon.passages:
        if top := passage.culmination:
            where = _("%(height)s high, %(where)s") % {
                "height": height(top.altitude_degrees),
                "where": bearing(top.azimuth_degrees),
            }
            yield Moment(top.instant, _("Moon highest"), where)


def _usable(usable: Usable | None) -> Iterator[Moment]:
    if usable:
        block = usable.block
        said = _("%(hours)s, dark, no Moon") % {"hours": hours(block.hours)}
        yield Moment(block.start, _("Usable from here"), said, is_wanted=True)
        yield Moment(block.end, _("End of the usable hours"), usable.why_it_ends, is_wanted=True)


def _why(row: Night, name: str) -> str:
    code: str | None = row.absent.get(name)
    return why_absent(code) if code else _("it does not happen in this night")
