"""When the targets of a list stand right in one night, and why some do not: computed at once.

As the stored windows of a year are, over a season of one night. Windows in any light are those
between sunset and sunrise, but where the Sun does not set.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from sky.dome import Standing
from sky.fixed import FixedSky
from sky.light.airmass import airmass
from sky.moving import directions_at, highest_within
from sky.place import Place
from sky.span_arrays import intersect
from sky.targets.kinds import target_of
from sky.targets.target import Arch, Light, Target
from sky.windows import Wanted, Windows, find_windows, is_fixed
from trips.almanac.one_night import OneNight
from trips.almanac.what_ends import Limit, limits_of
from trips.almanac.why_not import WhyNot, why_not
from trips.almanac.windows import LEVELLED_LIGHTS, known, usable_row, wanted_of, wanted_row
from trips.models import Site, Spot, TargetEntry

Floats = NDArray[np.float64]
Pair = tuple[float, float]
Usable = tuple[Pair, ...] | None

HOUR = 3600.0
# What is shorter is not seen in hours and minutes.
LEAST_SECONDS = 30.0


@dataclass(frozen=True, slots=True)
class Best:
    """Where a target is highest in its windows: Unix seconds, and the airmass there."""

    at: float
    standing: Standing
    airmass: float


@dataclass(frozen=True, slots=True)
class NightTarget:
    """A wanted target with its windows in one night; all times in Unix seconds.

    `best` lies inside `spans`. `culminates` is when it is highest between sunset and sunrise, None
    where that is at one of these. `limits` are the ends that the Moon or the land has set. `usable`
    is when it stands as high in usable dark, None for a light that needs no dark.
    """

    entry: TargetEntry
    light: Light
    spans: tuple[Pair, ...]
    best: Best
    culminates: float | None
    limits: tuple[Limit, ...]
    usable: Usable = None

    @property
    def hours(self) -> float:
        return sum(end - start for start, end in self.spans) / HOUR

    @property
    def usable_hours(self) -> float:
        return sum(end - start for start, end in self.usable or ()) / HOUR


@dataclass(frozen=True, slots=True)
class AbsentTarget:
    """A wanted target without a window, and why; there may be usable dark all the same."""

    entry: TargetEntry
    light: Light
    why: WhyNot
    usable: Usable = None


@dataclass(frozen=True, slots=True)
class NightTargets:
    """Targets with windows in the order of the night, and those without as their list has them."""

    seen: tuple[NightTarget, ...]
    absent: tuple[AbsentTarget, ...]


def night_targets(
    entries: Iterable[TargetEntry],
    site: Site,
    spot: Spot | None,
    evening: date,
    *,
    dark_level: int,
    with_usable: bool = True,
) -> NightTargets:
    """Find the windows of a list's targets in one night; without usable dark in half the time.

    Entries that no kind knows any more are left out. Errors: those of `OneNight`.
    """
    listed, night = list(known(entries)), OneNight(site, spot, evening)
    wanted = [wanted_of(wanted_row(entry, dark_level)) for entry in listed]
    windows, usable = _windows(listed, wanted, night, with_usable=with_usable)
    tops = _culminations(
        {one.target: its for one, its in zip(wanted, windows, strict=True) if len(its.spans)}, night
    )
    spans = [_by_night(its, night) for its in windows]
    seen: list[NightTarget] = []
    absent: list[AbsentTarget] = []
    for entry, one, its, when, limits, as_usable in zip(
        listed, wanted, windows, spans, limits_of(wanted, spans, night), usable, strict=True
    ):
        if len(when):
            top = tops.get(one.target)
            best = _best(its)
            seen.append(NightTarget(
                entry=entry,
                light=one.light,
                spans=_pairs(when),
                best=best
                if holds(when, best.at)
                else best_left(one.target, when, top, night.place),
                culminates=top,
                limits=limits,
                usable=as_usable,
            ))  # fmt: skip
        else:
            absent.append(AbsentTarget(entry, one.light, why_not(one, night), as_usable))
    seen.sort(key=lambda one: (one.spans[0][0], one.best.at))
    return NightTargets(tuple(seen), tuple(absent))


def within(one: NightTarget, hours: Pair, place: Place) -> NightTarget | None:
    """Give a target as it stands while people are out; None where it does not then."""
    out = np.array([hours])
    spans = intersect(np.array(one.spans), out)
    if not len(spans):
        return None
    usable = None if one.usable is None else intersect(np.array(one.usable).reshape(-1, 2), out)
    best = one.best
    if not holds(spans, best.at):
        best = best_left(target_of(one.entry.target), spans, one.culminates, place)
    return replace(
        one, spans=_pairs(spans), best=best, usable=None if usable is None else _pairs(usable)
    )


def _windows(
    entries: Sequence[TargetEntry], wanted: Sequence[Wanted], night: OneNight, *, with_usable: bool
) -> tuple[list[Windows], list[Usable]]:
    """Find the windows of each, and beside those that need the dark their usable dark."""
    in_dark = [number for number, one in enumerate(wanted) if one.light in LEVELLED_LIGHTS]
    levelled = in_dark if with_usable else []
    beside = [wanted_of(usable_row(entries[number])) for number in levelled]
    found = find_windows(
        [*wanted, *beside], night.place, night.skyline, night.table, enough=night.enough
    )
    usable: list[Usable] = [None] * len(wanted)
    for number, windows in zip(levelled, found[len(wanted) :], strict=True):
        usable[number] = _pairs(_by_night(windows, night))
    return found[: len(wanted)], usable


def _by_night(windows: Windows, night: OneNight) -> Floats:
    """Leave out the daylight, and what is too short to be told."""
    spans = intersect(windows.spans, night.down)
    return spans[spans[:, 1] - spans[:, 0] >= LEAST_SECONDS]


def _pairs(spans: Floats) -> tuple[Pair, ...]:
    return tuple((start, end) for start, end in spans.tolist())


def _best(windows: Windows) -> Best:
    height = float(windows.best_altitude[0])
    standing = Standing(height, float(windows.best_azimuth[0]))
    return Best(float(windows.best_at[0]), standing, float(airmass(height)))


def best_left(target: Target, spans: Floats, top: float | None, place: Place) -> Best:
    """Give the best moment that daylight, or people, have left: at an end of a window, or at the
    top."""
    tops = [top] if top is not None and holds(spans, top) else []
    at = np.sort([*spans.ravel(), *tops])
    seen = directions_at(target.points[0], place, at)
    best = int(np.argmax(seen.altitude_degrees))
    height = float(seen.altitude_degrees[best])
    standing = Standing(height, float(seen.azimuth_degrees[best]))
    return Best(float(at[best]), standing, float(airmass(height)))


def _culminations(up: Mapping[Target, Windows], night: OneNight) -> dict[Target, float]:
    """Give when targets are highest, of those that are so while the Sun is down."""
    found = _transits(up, night)
    for one, windows in up.items():
        if one not in found and not isinstance(one.points[0], Arch):
            found[one] = _tops(one, windows, night)
    return {
        one: inside for one, at in found.items() if (inside := _inside(at, night.down)) is not None
    }


def _transits(up: Iterable[Target], night: OneNight) -> dict[Target, Floats]:
    """Give the upper transits of places among the stars: all at once."""
    fixed = {one: point for one in up if is_fixed(point := one.points[0])}
    if not fixed:
        return {}
    start, end = (float(noon) for noon in night.whole[0])
    dates = night.date, night.date
    sky = FixedSky.over(list(fixed.values()), night.place, dates, start, end)
    return dict(zip(fixed, sky.transits(), strict=True))


def _tops(target: Target, windows: Windows, night: OneNight) -> Floats:
    """Give where what moves is highest: inside its windows, else in each stretch of the night."""
    inside = windows.best_at[[holds(_shorter(windows.spans), at) for at in windows.best_at]]
    if len(inside):
        return inside
    at = highest_within(target.points[0], night.place, night.down)
    return at[[holds(_shorter(night.down), one) for one in at]]


def _shorter(spans: Floats) -> Floats:
    """Leave out the ends, where nothing culminates."""
    shorter: Floats = spans + np.array((1.0, -1.0))
    return shorter


def _inside(at: Floats, spans: Floats) -> float | None:
    return next((one for one in at.tolist() if holds(spans, one)), None)


def holds(spans: Floats, at: float) -> bool:
    return bool(((spans[:, 0] <= at) & (at <= spans[:, 1])).any())
