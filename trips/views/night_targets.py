"""The wanted targets of a night in its order: when each stands right, and why some do not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.urls import reverse
from django.utils.formats import number_format
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock
from trips.almanac.night_target_words import best_words, limit_words, more_words, why_words
from trips.almanac.night_targets import AbsentTarget, NightTarget, Usable, night_targets
from trips.almanac.sky_times import has_sky
from trips.almanac.targets import light_words, starter_entries, starter_for, starter_words
from trips.charts.bands import DAY_MINUTES, NightBands, bands_of
from trips.charts.strip import ROW_WINDOW
from trips.models import Night, Season, Site, TargetEntry
from trips.planning.hours_out import hours_out
from trips.planning.nights import Wishes
from trips.templatetags.nights import spans
from trips.views.night_spot import SeenFrom
from trips.views.page_address import PageAddress


@dataclass(frozen=True, slots=True)
class Named:
    """What a table calls a target, where more is told of it, and its wishes."""

    name: str
    address: str
    light: str
    weight: str


@dataclass(frozen=True, slots=True)
class TargetRow:
    """A target as the table tells it; `bands` and `best_minute` are what its strip draws."""

    target: NightTarget
    named: Named
    when: str
    usable: str
    best: str
    where: str
    more: str
    against: list[str]
    bands: NightBands
    best_minute: float


@dataclass(frozen=True, slots=True)
class AbsentRow:
    named: Named
    why: str
    usable: str


def entries_wanted(season: Season | None) -> list[TargetEntry]:
    """Give what a season wants. Two queries where it wants a list."""
    return list(season.target_list.entries.all()) if season and season.target_list else []


def targets_of_night(
    row: Night,
    seen_from: SeenFrom,
    season: Season | None,
    entries: Sequence[TargetEntry],
    *,
    dark_level: int,
    asked: str | None = None,
) -> dict[str, Any]:
    """Give the table of the list that is wanted, else of one that suits place and month.

    `asked` is what the address says for a list; what is none of theirs gets a sentence.
    """
    wanted = season.target_list if season else None
    starter = "" if wanted else starter_for(seen_from.site.latitude, row.date)
    listed = starter_entries(starter) if starter else entries
    site, spot = seen_from.site, seen_from.spot
    found = night_targets(listed, site, spot, row.date, dark_level=dark_level)
    rows = _Rows(row, site, season, dark_level)
    return {
        "list": wanted,
        "mistake": _mistake(season, asked),
        "starter": starter_words(starter) if starter else "",
        "spot": spot,
        "sun_sets": has_sky(row),
        "window": ROW_WINDOW if has_sky(row) else (0, DAY_MINUTES),
        "unknown": len(listed) - len(found.seen) - len(found.absent),
        "has_weights": len({entry.weight for entry in listed}) > 1,
        "seen": [rows.seen(one) for one in found.seen],
        "absent": [rows.absent(one) for one in found.absent],
    }


def wanted_spans(told: dict[str, Any]) -> list[tuple[float, float]]:
    """Give when the targets of the season's own list stand right, of a told table."""
    return [span for row in told["seen"] for span in row.target.spans] if told["list"] else []


def _mistake(season: Season | None, asked: str | None) -> str:
    if not asked or (season and asked == str(season.target_list_id)):
        return ""
    if season is None:
        return _("A list is wanted for a season, and no season of this site holds this night.")
    return _("That is no list of targets of yours: the season's own is used.")


class _Rows:
    """Writes the rows of one night's table."""

    def __init__(self, row: Night, site: Site, season: Season | None, dark_level: int) -> None:
        self._night, self._zone, self._level = row, site.zone, dark_level
        self._out = hours_out(row, Wishes.of(season), site.zone) if season else None
        self._page = reverse("target_show", args=[site.organisation_id])

    def seen(self, one: NightTarget) -> TargetRow:
        best = one.best
        bands = self._bands(one)
        *wanted, (best_minute, _) = bands.wanted
        return TargetRow(
            target=one,
            named=self._named(one.entry, one.light),
            when=spans(one.spans, self._zone),
            usable=self._usable(one.usable),
            best=clock(best.at, self._zone),
            where=best_words(best),
            more=more_words(one, self._zone),
            against=[*limit_words(one.limits, self._zone), *self._late(one)],
            bands=replace(bands, wanted=tuple(wanted)),
            best_minute=best_minute,
        )

    def absent(self, one: AbsentTarget) -> AbsentRow:
        return AbsentRow(
            self._named(one.entry, one.light), why_words(one), self._usable(one.usable)
        )

    def _usable(self, found: Usable) -> str:
        """Tell the usable dark; "": there is none."""
        return spans(found, self._zone) if found else ""

    def _bands(self, one: NightTarget) -> NightBands:
        """Put the windows on the clock of the wall, and after them the best moment."""
        marked = [*one.spans, (one.best.at, one.best.at)]
        return bands_of(self._night, self._zone, dark_level=self._level, wanted=marked)

    def _named(self, entry: TargetEntry, light: str) -> Named:
        asked = {"target": entry.target, "list": entry.target_list_id}  # a starter's has no list
        address = PageAddress(self._page, asked).with_()
        return Named(entry.name, address, light_words(light), number_format(f"{entry.weight:g}"))

    def _late(self, one: NightTarget) -> Iterator[str]:
        """Say that a target, or its best moment, comes after the hours in which people are out."""
        if self._out is None:
            return
        start, end = self._out
        last = {"latest": clock(end, self._zone)}
        if one.spans[0][0] >= end:
            yield _("only after %(latest)s, your latest hour") % last
        elif one.spans[-1][1] <= start:
            yield _("over before %(dusk)s, when you are out") % {"dusk": clock(start, self._zone)}
        elif one.best.at > end:
            yield _("best after %(latest)s, your latest hour") % last
