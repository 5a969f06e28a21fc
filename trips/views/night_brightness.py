"""How bright the sky is along a night, overhead and toward each target that stands right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from django.http import QueryDict
from django.utils.translation import gettext as _

from trips.almanac.brightness_words import (
    best_sentence,
    brighter,
    overhead_sentences,
    range_sentence,
    tenths,
    usable_sentence,
)
from trips.almanac.local_time import clock
from trips.almanac.night_targets import NightTarget
from trips.almanac.sky_brightness import LightLine, NightLight, Pair, night_light, usable_toward
from trips.almanac.sky_times import has_sky
from trips.charts.brightness import Drawn, Line, brightness_chart
from trips.charts.course import Course, course_of
from trips.models import Night
from trips.views.night_spot import SeenFrom

BROAD_PX, NARROW_PX = 1152, 360


@dataclass(frozen=True, slots=True)
class BrightnessRow:
    """A target's sky at its best moment in words, and the link that draws its line."""

    key: str
    name: str
    address: str
    is_asked: bool
    best: str
    sky: str
    star: str
    natural: str
    glow: str
    moon: str
    twilight: str


def night_brightness(
    row: Night,
    seen_from: SeenFrom,
    targets: Mapping[str, Any],
    asked: QueryDict,
    *,
    dark_level: int,
) -> dict[str, Any]:
    """Give the picture, what it says, and a row for each of the night's targets that stand right.

    Of targets that are wanted the heaviest is pointed at until another is asked for. Nothing where
    the Sun does not set.
    """
    if not has_sky(row):
        return {}
    site, spot = seen_from.site, seen_from.spot
    seen: list[NightTarget] = [each.target for each in targets["seen"]]
    light = night_light(row, site, spot, seen)
    chosen, mistake = _chosen(light, asked.get("toward"), is_wanted=bool(targets["list"]))
    overhead = [(start, end) for start, end in row.usable]
    usable = overhead
    said = list(overhead_sentences(light, overhead, site.zone))
    if chosen and chosen.target:
        usable = list(usable_toward(chosen.target, site, spot, row.date))
        name = chosen.target.entry.name
        said.append(best_sentence(name, chosen.best, site.zone))
        toward = _("toward %(name)s") % {"name": name}
        said.append(usable_sentence(toward, usable, light.loss_mag, site.zone))
    course = course_of(row, site.zone, dark_level=dark_level)
    return {
        "said": said,
        "description": " ".join([*said, range_sentence(light.overhead)]),
        "title": _("The sky's brightness from sunset to sunrise"),
        "mistake": mistake,
        "is_measured": light.is_measured,
        "measured_on": site.sky_measured_on,
        "spot": spot,
        "loss": light.loss_mag,
        "pictures": _pictures(row, course, light, chosen, usable),
        "rows": list(_rows(light, chosen, asked, site.zone)),
    }


def _chosen(
    light: NightLight, asked: str | None, *, is_wanted: bool
) -> tuple[LightLine | None, str]:
    """Give the line asked for, else the usual; and a sentence where it is not there."""
    found = next((line for line in light.toward if _key(line) == asked), None)
    usual = max(light.toward, key=_weight, default=None) if is_wanted else None
    is_wrong = bool(asked) and found is None
    mistake = _("What was asked for does not stand right tonight.") if is_wrong else ""
    return found or usual, mistake


def _weight(line: LightLine) -> float:
    return line.target.entry.weight if line.target else 0.0


def _key(line: LightLine) -> str:
    return line.target.entry.target if line.target else ""


def _pictures(
    row: Night,
    course: Course,
    light: NightLight,
    chosen: LightLine | None,
    usable: Sequence[Pair],
) -> list[tuple[str, Drawn]]:
    """Draw for a desk and for a phone, the important lines first."""
    start = row.start.timestamp()
    minutes = ((light.unix - start) / 60).tolist()
    others = [line for line in light.toward if line is not chosen]
    drawn = [*filter(None, [chosen]), light.overhead, *others]
    lines = [_line(line, minutes, start, is_asked=line is chosen) for line in drawn]
    bar = tuple(_minutes(usable, start))
    return [
        (way, brightness_chart(course, lines, bar, width=width))
        for way, width in (("broad", BROAD_PX), ("narrow", NARROW_PX))
    ]


def _line(line: LightLine, minutes: Sequence[float], start: float, *, is_asked: bool) -> Line:
    mags = np.where(line.is_clear, line.magnitudes, np.nan).tolist()
    points = list(zip(minutes, mags, strict=True))
    if line.target is None:
        return Line(_("overhead"), "overhead", points)
    kind = "asked" if is_asked else "other"
    return Line(line.target.entry.name, kind, points, tuple(_minutes(line.spans, start)))


def _minutes(spans: Sequence[Pair], start: float) -> Iterator[Pair]:
    return (((first - start) / 60, (last - start) / 60) for first, last in spans)


def _rows(
    light: NightLight, chosen: LightLine | None, asked: QueryDict, zone: str
) -> Iterator[BrightnessRow]:
    for line in light.toward:
        if line.target is None:
            continue
        address, best = asked.copy(), line.best
        address["toward"] = _key(line)
        yield BrightnessRow(
            key=_key(line),
            name=line.target.entry.name,
            address=f"?{address.urlencode()}",
            is_asked=line is chosen,
            best=clock(best.at, zone),
            sky=tenths(best.sky_mag),
            star=tenths(best.faintest_star),
            natural=tenths(best.natural_mag),
            glow=brighter(best.glow_mag),
            moon=brighter(best.moon_mag),
            twilight=brighter(best.twilight_mag),
        )
