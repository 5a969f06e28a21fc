"""What a chart of nights draws once, in columns and minutes, and says beside it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from zlib import crc32

from django.utils.translation import gettext

from trips.charts.bands import NightBands
from trips.charts.plan import Plan
from trips.charts.steps import CLOSES, OPENS, bars, columns, outline

PlacedNights = Sequence[tuple[int, NightBands]]

# Where clocks change on paper: near enough for the one night that it is drawn on.
CHANGE_MINUTES = 14 * 60
# Perceived light grows more slowly than the lit part: a half Moon is far more than half a veil.
VEIL_POWER = 0.8
VEIL_STEPS = 10


@dataclass(frozen=True, slots=True)
class Veil:
    opacity: str  # of the greatest
    path: str


@dataclass(frozen=True, slots=True)
class Bands:
    """Areas of the sky, each darker one over the lighter, and the Moon's light over them."""

    day: str  # the nights that are there
    civil: str
    nautical: str
    astronomical: str
    dark: str
    veils: tuple[Veil, ...]


@dataclass(frozen=True, slots=True)
class Lines:
    grid: str
    changes: str
    hours_out: str
    today: str
    avoid: str


@dataclass(frozen=True, slots=True)
class LegendItem:
    words: str
    kinds: tuple[str, ...]  # classes of the swatches
    veils: tuple[str, ...] = ()  # opacities of a veil over the last class
    line: str = ""  # class of a line drawn over the swatch


def key_of(title: str) -> str:
    """Begin the ids of a chart."""
    return f"chart-{crc32(title.encode()):08x}"


def placed_nights(nights: Iterable[NightBands]) -> PlacedNights:
    """Number nights by the days since the first."""
    found = list(nights)
    first = found[0].date.toordinal() if found else 0
    return [(night.date.toordinal() - first, night) for night in found]


def bands_drawn(placed: PlacedNights) -> Bands:
    return Bands(
        day=outline([(x, OPENS, CLOSES) for x, _ in placed]),
        civil=outline(columns((x, night.civil) for x, night in placed)),
        nautical=outline(columns((x, night.nautical) for x, night in placed)),
        astronomical=outline(columns((x, night.astronomical) for x, night in placed)),
        dark=outline(columns((x, night.dark) for x, night in placed)),
        veils=tuple(_veils(placed)),
    )


def veil_step(lit: float) -> int:
    """Give the strength of moonlight in steps, of VEIL_STEPS for a full Moon."""
    return round(float(lit**VEIL_POWER) * VEIL_STEPS)


def opacity(step: int) -> str:
    """Give a veil's opacity, of the greatest there is."""
    return f"{step / VEIL_STEPS:g}"


def _veils(placed: PlacedNights) -> Iterable[Veil]:
    by_step = defaultdict(list)
    for x, night in placed:
        if night.veil:
            by_step[veil_step(night.lit)].append((x, night.veil))
    by_step.pop(0, None)
    return [Veil(opacity(step), bars(columns(by_step[step]))) for step in sorted(by_step)]


def lines_drawn(plan: Plan, avoid: Iterable[tuple[date, date]]) -> Lines:
    return Lines(
        grid="".join(
            [f"M0 {y}H{plan.count}" for y in range(OPENS + 120, CLOSES, 120)]
            + [f"M{month.place} {OPENS}V{CLOSES}" for month in plan.months[1:]]
        ),
        changes="".join(
            f"M{change.place + 1} {OPENS}V{CHANGE_MINUTES}H{change.place}V{CLOSES}"
            for change in plan.changes
        ),
        hours_out="".join(
            f"M0 {line.minutes}H{plan.count}"
            for line in plan.clock_lines
            if OPENS < line.minutes < CLOSES
        ),
        today=f"M{plan.today}.5 {OPENS}V{CLOSES}" if plan.today is not None else "",
        avoid="".join(_avoided(avoid, plan)),
    )


def _avoided(avoid: Iterable[tuple[date, date]], plan: Plan) -> Iterable[str]:
    for first, last in avoid:
        start = max(0, (first - plan.first).days)
        end = min(plan.count, (last - plan.first).days + 1)
        if start < end:
            yield f"M{start} {CLOSES}H{end}"


def legend_of_bands(bands: Bands) -> Iterable[LegendItem]:
    """Explain the bands that are there, in the order of the dusk."""
    yield LegendItem(gettext("day"), ("b-day",))
    if bands.civil:
        yield LegendItem(gettext("civil"), ("b-civil",))
    if bands.nautical:
        yield LegendItem(gettext("nautical"), ("b-nautical",))
    if bands.astronomical and bands.astronomical != bands.dark:
        yield LegendItem(gettext("astronomical twilight"), ("b-astronomical",))
    if bands.dark:
        yield LegendItem(gettext("dark"), ("b-dark",))
    if bands.veils:
        words = gettext("Moon 10, 50, 100 % lit")
        veils = tuple(opacity(veil_step(lit)) for lit in (0.1, 0.5, 1))
        yield LegendItem(words, ("b-dark",), veils)
