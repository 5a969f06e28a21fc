"""The chart of a season: every night at one site, its best runs marked and linked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time

from django.utils.translation import gettext

from trips.charts.across import across
from trips.charts.bands import NightBands, Stretches, common
from trips.charts.down import down
from trips.charts.drawn import (
    Bands,
    LegendItem,
    Lines,
    bands_drawn,
    key_of,
    legend_of_bands,
    lines_drawn,
    placed_nights,
)
from trips.charts.picture import Picture
from trips.charts.plan import MoonMark, Plan, RunMark, plan_of
from trips.charts.steps import bars, columns, outline

__all__ = ["MoonMark", "RunMark", "SeasonChart", "season_chart"]


@dataclass(frozen=True, slots=True)
class SeasonChart:
    """Paths in columns and minutes, drawn once; `pictures` places them across and down a page."""

    key: str
    title: str
    description: str
    bands: Bands | None
    usable: str
    out: str
    wanted: str
    lines: Lines | None
    pictures: tuple[Picture, ...]
    legend: tuple[LegendItem, ...]
    notes: tuple[str, ...]


def season_chart(
    nights: Sequence[NightBands],
    *,
    marks: Sequence[RunMark] = (),
    moons: Sequence[MoonMark] = (),
    avoid: Sequence[tuple[date, date]] = (),
    latest: time | None = None,
    earliest: time | None = None,
    today: date | None = None,
    title: str,
    description: str,
    key: str = "",
) -> SeasonChart:
    """Draw nights in order of date; a date without a night stays empty.

    `key` begins the ids: give one where two charts on a page have the same title. Of no nights
    there is no picture.
    """
    key = key or key_of(title)
    if not nights:
        return SeasonChart(key, title, description, None, "", "", "", None, (), (), ())
    plan = plan_of(nights, marks=marks, moons=moons, latest=latest, earliest=earliest, today=today)
    placed = placed_nights(nights)
    bands = bands_drawn(placed)
    counted = [(x, _counted(night)) for x, night in placed]
    usable = outline(columns(counted))
    out = bars(columns(_beyond(nights, counted)))
    wanted = outline(columns((x, night.wanted) for x, night in placed))
    lines = lines_drawn(plan, avoid)
    return SeasonChart(
        key=key,
        title=title,
        description=description,
        bands=bands,
        usable=usable,
        out=out,
        wanted=wanted,
        lines=lines,
        pictures=(across(plan), down(plan)),
        legend=tuple(_legend(bands, usable, out, wanted)),
        notes=tuple(_notes(plan, lines, len(nights))),
    )


def _counted(night: NightBands) -> Stretches:
    """Give the block, without what the Moon takes out of its middle."""
    if night.usable is None:
        return ()
    block = (night.usable,)
    return block if night.out == block else common(block, night.out) or block


def _beyond(
    nights: Iterable[NightBands], counted: Iterable[tuple[int, Stretches]]
) -> Iterable[tuple[int, Stretches]]:
    """Give all of the moonless dark while people are out, where that is more than counts."""
    return [
        (x, night.out)
        for night, (x, block) in zip(nights, counted, strict=True)
        if _minutes(night.out) > _minutes(block) + 1
    ]


def _minutes(stretches: Stretches) -> float:
    return sum([end - start for start, end in stretches])


def _legend(bands: Bands, usable: str, out: str, wanted: str) -> Iterable[LegendItem]:
    yield from legend_of_bands(bands)
    if usable and wanted:
        yield LegendItem(gettext("usable: a wanted target up, people out"), ("b-dark", "usable"))
    elif usable:
        yield LegendItem(gettext("usable: dark, no Moon, people out"), ("b-dark", "usable"))
    if out:
        yield LegendItem(gettext("the same, beyond the hours counted"), ("b-dark", "out"))
    if wanted:
        yield LegendItem(gettext("a wanted target up, whenever"), ("b-dark",), line="line wanted")


def _notes(plan: Plan, lines: Lines, drawn: int) -> Iterable[str]:
    if lines.avoid:
        yield gettext("Short bars along the edge: dates to avoid.")
    if lines.changes:
        yield gettext("The line with a step: clocks change.")
    if drawn < plan.count:
        yield gettext("Empty places: nights that are not computed.")
