"""Two sites laid over each other: when both are dark without Moon while people are out."""

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
from trips.charts.night_words import hours_of
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
    """Moonless dark while people are out: stretches by night, on one clock."""

    both: dict[date, Stretches]
    first: dict[date, Stretches]  # only there
    second: dict[date, Stretches]  # only there


def overlay_chart(
    first: Sequence[NightBands],
    second: Sequence[NightBands],
    *,
    first_name: str,
    second_name: str,
    latest: time | None = None,
    key: str = "",
) -> OverlayChart:
    """Lay the second site's nights over the first's; dates that only the second has are left out.

    All nights must be on the first site's clock: give `bands_of` the first site's zone for both.
    """
    title = gettext("%(first)s and %(second)s laid over each other") % {
        "first": first_name,
        "second": second_name,
    }
    shared = shared_dark(first, second)
    description = told(shared, first_name, second_name)
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


def shared_dark(first: Iterable[NightBands], second: Iterable[NightBands]) -> Shared:
    """Part the moonless dark while people are out into that of both sites and of each alone."""
    theirs = {night.date: night.out for night in second}
    ours = {night.date: night.out for night in first}
    dates = ours.keys() & theirs.keys()
    return Shared(
        both={day: common(ours[day], theirs[day]) for day in dates},
        first={day: without(out, theirs.get(day, ())) for day, out in ours.items()},
        second={day: without(theirs[day], ours[day]) for day in dates},
    )


def told(shared: Shared, first_name: str, second_name: str) -> str:
    """Say what the picture says, in hours of the whole season."""
    return gettext(
        "Moonless dark while people are out: %(both)s at both sites, %(first_hours)s only at "
        "%(first)s, %(second_hours)s only at %(second)s."
    ) % {
        "both": _hours(shared.both),
        "first_hours": _hours(shared.first),
        "first": first_name,
        "second_hours": _hours(shared.second),
        "second": second_name,
    }


def _hours(stretches: dict[date, Stretches]) -> str:
    return hours_of(sum(end - start for night in stretches.values() for start, end in night) / 60)


def _outline(placed: Sequence[tuple[int, NightBands]], stretches: dict[date, Stretches]) -> str:
    return outline(columns((x, stretches.get(night.date, ())) for x, night in placed))


def _legend(bands: Bands, first_name: str, second_name: str) -> Iterable[LegendItem]:
    yield from legend_of_bands(bands)
    yield LegendItem(gettext("dark, no Moon, people out at both"), ("b-dark", "usable"))
    only = gettext("only at %(site)s") % {"site": first_name}
    yield LegendItem(only, ("b-dark",), line="hatched")
    second = gettext("all of it at %(site)s") % {"site": second_name}
    yield LegendItem(second, ("b-dark",), line="other-site")
