"""Why a run of nights, and what speaks against it: codes with figures, worded elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from typing import Any, Protocol

from trips.planning.barred import Barred
from trips.planning.candidates import judge_nights
from trips.planning.hours_out import hours_out
from trips.planning.nights import JudgedNight, NightRow, Wishes
from trips.planning.stretches import seconds, within
from trips.planning.weighing import HOUR, WantedSpans

TENTH_OF_AN_HOUR = 0.1
# Worth saying: half an hour gained by staying longer, an hour on the road after a night out.
LEAST_GAIN_HOURS, LONG_DRIVE_MINUTES = 0.5, 60
LONGER_BY_HOURS = (1, 2, 3, 4, 5, 6)


class ReachedSite(Protocol):
    """What a site says of the way to it; typed loosely, as a Django row gives it."""

    @property
    def zone(self) -> Any: ...
    @property
    def night_access(self) -> Any: ...
    @property
    def permit_number(self) -> Any: ...
    @property
    def permit_lead_days(self) -> Any: ...
    @property
    def largest_group(self) -> Any: ...
    @property
    def drive_minutes(self) -> Any: ...


class WholeNight(NightRow, Protocol):
    """A stored night from noon to noon, with its dark stretches by level, dark_18 and so on."""

    @property
    def start(self) -> datetime: ...
    @property
    def end(self) -> datetime: ...


@dataclass(frozen=True, slots=True)
class Reason:
    code: str
    fields: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RunOfNights:
    """A run with the stored rows it was judged from; `new_moon` is the one it belongs to.

    `wanted` is what counts there; None: the moonless dark. `barred` is a better run that is not
    offered, `holidays` the public ones among its dates with their names, `most_wanted` the name of
    the target that counts most and its hours in each night while people are out.
    """

    nights: Sequence[JudgedNight]
    rows: Sequence[WholeNight]
    new_moon: datetime
    wanted: Sequence[WantedSpans] | None = None
    barred: Barred | None = None
    holidays: Mapping[date, str] = field(default_factory=dict)
    most_wanted: tuple[str, Sequence[float]] | None = None


def reasons_for(run: RunOfNights, wishes: Wishes, zone: str) -> tuple[Reason, ...]:
    """Say what the Moon does, then when the hours are and what is in hand, then what of them is
    the most wanted."""
    return (*_moon_for(run, wishes, zone), *_hours_for(run, wishes), *_most_wanted(run))


def reasons_against(
    run: RunOfNights, wishes: Wishes, site: ReachedSite, *, today: date
) -> tuple[Reason, ...]:
    """Say what costs hours, then what the people must do about it; `nothing` where all is well."""
    found = (
        *_without_most_wanted(run),
        *_moon_against(run, wishes, site.zone),
        *_short(run, wishes, site.zone),
        *_barred(run),
        *_access(run.nights[0].date, site, today),
        *_holidays(run),
        *_drive(run, site),
    )
    return found or (Reason("nothing"),)


def moonlit_hours(run: RunOfNights, wishes: Wishes, zone: str) -> float:
    """Sum the dark hours inside the stay-out hours in which the Moon is up."""
    lost = 0.0
    for row, night in zip(run.rows, run.nights, strict=True):
        dark: Sequence[Sequence[float]] = getattr(row, f"dark_{-wishes.dark_level}")
        out = within(dark, hours_out(row, wishes, zone))
        lost += seconds(out) / HOUR - night.moonless_hours_out
    return lost


def _moon_for(run: RunOfNights, wishes: Wishes, zone: str) -> Iterator[Reason]:
    if moonlit_hours(run, wishes, zone) >= TENTH_OF_AN_HOUR:
        return
    if run.rows[0].start <= run.new_moon < run.rows[-1].end:
        yield Reason("new_moon_within", {"instant": run.new_moon})
    else:
        yield Reason("no_moonlight", {"instant": run.new_moon})


def _moon_against(run: RunOfNights, wishes: Wishes, zone: str) -> Iterator[Reason]:
    lost = moonlit_hours(run, wishes, zone)
    if lost >= TENTH_OF_AN_HOUR:
        yield Reason("moon_costs", {"hours": lost})


def _hours_for(run: RunOfNights, wishes: Wishes) -> Iterator[Reason]:
    blocks = [night.block for night in run.nights if night.block]
    if not blocks:
        return
    least = min(night.counted_hours_out - night.usable_hours for night in run.nights)
    fields = {"blocks": [(block.start, block.end) for block in blocks], "in_hand": least}
    full = all(night.usable_hours >= wishes.most_hours_out - 1 / 60 for night in run.nights)
    yield Reason("full_nights" if full and least >= TENTH_OF_AN_HOUR else "between", fields)


def _most_wanted(run: RunOfNights) -> Iterator[Reason]:
    if run.most_wanted and any(run.most_wanted[1]):
        name, hours = run.most_wanted
        yield Reason("most_wanted", {"name": name, "hours": hours})


def _without_most_wanted(run: RunOfNights) -> Iterator[Reason]:
    if run.most_wanted and not any(run.most_wanted[1]):
        yield Reason("without_most_wanted", {"name": run.most_wanted[0]})


def _short(run: RunOfNights, wishes: Wishes, zone: str) -> Iterator[Reason]:
    """Say how late it would have to be for a short run to gain, and by how much."""
    usable = sum(night.usable_hours for night in run.nights)
    if usable >= len(run.nights) * wishes.most_hours_out - TENTH_OF_AN_HOUR:
        return
    tried = [(until, _usable_until(run, wishes, zone, until)) for until in _later(wishes)]
    most = max((hours for _, hours in tried), default=0.0)
    if most - usable >= LEAST_GAIN_HOURS:
        until = next(until for until, hours in tried if hours >= most - TENTH_OF_AN_HOUR)
        yield Reason("longer_would_add", {"until": until, "hours": most - usable})


def _later(wishes: Wishes) -> list[time]:
    """Give the hours after the latest one, up to seven in the morning."""
    start = datetime.combine(date(2000, 1, 2 if wishes.out_until < time(12) else 1), time(0))
    start = start.replace(hour=wishes.out_until.hour, minute=wishes.out_until.minute)
    later = (start + timedelta(hours=by) for by in LONGER_BY_HOURS)
    return [each.time() for each in later if each <= datetime(2000, 1, 2, 7)]  # noqa: DTZ001


def _usable_until(run: RunOfNights, wishes: Wishes, zone: str, until: time) -> float:
    later = replace(wishes, out_until=until)
    nights = judge_nights(run.rows, later, zone, wanted=run.wanted)
    return sum(night.usable_hours for night in nights)


def _barred(run: RunOfNights) -> Iterator[Reason]:
    if run.barred:
        stretch = run.barred.stretch
        dates = {"first": stretch.first, "last": stretch.last, "hours": stretch.hours}
        yield Reason("better_barred", dates | {"why_not": run.barred.why_not})


def _access(first: date, site: ReachedSite, today: date) -> Iterator[Reason]:
    if site.night_access == "unknown":
        yield Reason("access_unknown")
    if site.night_access == "permit" and not site.permit_number:
        days = site.permit_lead_days
        ask_by = first - timedelta(days=days) if days is not None else None
        late = ask_by is not None and ask_by < today
        yield Reason("permit_too_late" if late else "needs_permit", {"ask_by": ask_by})
    if site.largest_group:
        yield Reason("group_limit", {"people": site.largest_group})


def _holidays(run: RunOfNights) -> Iterator[Reason]:
    if run.holidays:
        yield Reason("holidays", {"days": tuple(sorted(run.holidays.items()))})


def _drive(run: RunOfNights, site: ReachedSite) -> Iterator[Reason]:
    ends = [night.block.end for night in run.nights if night.block]
    if ends and (site.drive_minutes or 0) >= LONG_DRIVE_MINUTES:
        yield Reason("long_drive", {"minutes": site.drive_minutes, "ends": ends})
