"""How bright the sky is along a night, overhead and toward each target that stands right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from django.http import QueryDict
from django.utils.translation import gettext as _

from trips.almanac.brightness_words import (
    best_words,
    made_of,
    overhead_words,
    range_sentence,
    tenths,
    usable_words,
)
from trips.almanac.local_time import clock
from trips.almanac.night_targets import NightTarget
from trips.almanac.sky_brightness import LightLine, NightLight, Pair, has_a_sky, night_light
from trips.almanac.sky_times import has_sky
from trips.charts.brightness import Drawn, Line, brightness_chart
from trips.charts.course import Course, course_of
from trips.charts.picture import shortened
from trips.models import Night
from trips.views.night_spot import SeenFrom

BROAD_PX, NARROW_PX = 1152, 360
LONGEST_LABEL = 24


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
    made_of: str


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of one line: toward what, how dark, when usable."""

    toward: str
    best: str
    usable: str

    def __str__(self) -> str:
        return f"{self.toward}: {self.best}; {self.usable}"


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
    stand_right: list[NightTarget] = [each.target for each in targets["seen"]]
    seen = [one for one in stand_right if has_a_sky(one)]
    light = night_light(row, site, spot, seen)
    chosen, mistake = _chosen(light, asked.get("toward"), is_wanted=bool(targets["list"]))
    usable = [(start, end) for start, end in row.usable]
    said = [
        Said(
            _("Overhead"),
            overhead_words(light.overhead.best, light.darkest, site.zone),
            usable_words(usable, site.zone),
        )
    ]
    if chosen and chosen.target:
        usable = list(chosen.target.usable or ())
        best = best_words(chosen.best, site.zone)
        when = usable_words(chosen.target.usable, site.zone)
        said.insert(0, Said(chosen.target.entry.name, best, when))
    course = course_of(row, site.zone, dark_level=dark_level)
    return {
        "said": said,
        "description": " ".join([*(f"{one}." for one in said), range_sentence(light.overhead)]),
        "title": _("The sky's brightness from sunset to sunrise"),
        "mistake": mistake,
        "drowned": [one.entry.name for one in stand_right if not has_a_sky(one)],
        "aimed": chosen is not None,
        "bar": _bar(said[0].toward, has_target=chosen is not None) if usable else "",
        "moon_up": bool(course.bands.veil),
        "is_measured": light.is_measured,
        "measured_on": site.sky_measured_on,
        "spot": spot,
        "pictures": _pictures(row, course, light, chosen, usable),
        "rows": list(_rows(light, chosen, asked, site.zone)),
    }


def _bar(toward: str, *, has_target: bool) -> str:
    """Say what the bar below the lines is of."""
    if not has_target:
        return _("The bar: usable dark overhead.")
    return _("The bar: usable dark toward %(name)s.") % {"name": toward}


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
    name = shortened(line.target.entry.name, most=LONGEST_LABEL)
    return Line(name, kind, points, tuple(_minutes(line.spans, start)))


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
            made_of=made_of(best),
        )
