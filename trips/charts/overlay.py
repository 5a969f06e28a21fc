"""Two sites laid over each other: when both can be used, and when only one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time

from django.utils.translation import gettext

from trips.charts.across import across
from trips.charts.bands import NightBands, Stretches, common, without
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
from trips.charts.plan import plan_of
from trips.charts.steps import columns, outline


@dataclass(frozen=True, slots=True)
class OverlayChart:
    """The first site's sky, and over it what both sites offer, and each alone."""

    key: str
    title: str
    description: str
    bands: Bands | None
    both: str
    only: str  # at the first site
    second: str  # the whole of the second site's, for an outline
    lines: Lines | None
    pictures: tuple[Picture, ...]
    legend: tuple[LegendItem, ...]


@dataclass(frozen=True, slots=True)
class Shared:
    """Usable stretches by night, on one clock: of both at the same time, of the first alone."""

    both: dict[date, Stretches]
    first: dict[date, Stretches]


def overlay_chart(
    first: Sequence[NightBands],
    second: Sequence[NightBands],
    *,
    first_name: str,
    second_name: str,
    description: str,
    latest: time | None = None,
    key: str = "",
) -> OverlayChart:
    """Lay the second site's nights over the first's; dates that only the second has are left out.

    All nights must be on the first site's clock: give `bands_of` the first site's zone for both.
    What is `out` in them is laid over; `description` says in words what the picture says.
    """
    title = gettext("%(first)s and %(second)s laid over each other") % {
        "first": first_name,
        "second": second_name,
    }
    shared = shared_out(first, second)
    key = key or key_of(title)
    if not first:
        return OverlayChart(key, title, description, None, "", "", "", None, (), ())
    plan = plan_of(first, latest=latest)
    placed = placed_nights(first)
    bands = bands_drawn(placed)
    out_of_second = {night.date: night.out for night in second}
    return OverlayChart(
        key=key,
        title=title,
        description=description,
        bands=bands,
        both=_outline(placed, shared.both),
        only=_outline(placed, shared.first),
        second=_outline(placed, out_of_second),
        lines=lines_drawn(plan, ()),
        pictures=(across(plan), down(plan)),
        legend=tuple(_legend(bands, first_name, second_name)),
    )


def shared_out(first: Iterable[NightBands], second: Iterable[NightBands]) -> Shared:
    """Part the first site's stretches into those that the second has too and its own."""
    theirs = {night.date: night.out for night in second}
    ours = {night.date: night.out for night in first}
    dates = ours.keys() & theirs.keys()
    return Shared(
        both={day: common(ours[day], theirs[day]) for day in dates},
        first={day: without(out, theirs.get(day, ())) for day, out in ours.items()},
    )


def _outline(placed: Sequence[tuple[int, NightBands]], stretches: dict[date, Stretches]) -> str:
    return outline(columns((x, stretches.get(night.date, ())) for x, night in placed))


def _legend(bands: Bands, first_name: str, second_name: str) -> Iterable[LegendItem]:
    yield from legend_of_bands(bands)
    yield LegendItem(gettext("usable at both at the same time"), ("b-dark", "usable"))
    only = gettext("usable only at %(site)s") % {"site": first_name}
    yield LegendItem(only, ("b-dark",), line="hatched")
    second = gettext("all usable hours of %(site)s") % {"site": second_name}
    yield LegendItem(second, ("b-dark",), line="other-site")
