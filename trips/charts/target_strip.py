"""When a target stands right in a night: a bar over the night's strip, with a tick at the best."""

from __future__ import annotations

from trips.charts.bands import NightBands, Stretch
from trips.charts.strip import FINE, band_lines, framed, inside

# Of the bar from the strip's edges, so that the bands are seen along it; half the tick's width.
INSET, HALF_TICK = 3 * FINE, FINE


def target_strip(
    bands: NightBands, best: float, window: Stretch, *, width: float, height: float
) -> str:
    """Draw `bands.wanted` over the bands; `best` and `window` in minutes after noon, too.

    What lies outside the window is not drawn. The strip says nothing to a screen reader: words
    must stand beside it. Its size is left to the style sheet.
    """
    first, last = window
    scale, high = FINE * width / (last - first), height * FINE
    lines = [
        *band_lines(bands, window, scale),
        _bar(bands, window, scale, high),
        _tick(best, window, scale, high),
    ]
    return framed(lines, width, height, sized=False, label="")


def _bar(bands: NightBands, window: Stretch, scale: float, high: float) -> str:
    drawn = "".join(
        f"M{a} {INSET}H{b}V{high - INSET:g}H{a}z" for a, b in inside(bands.wanted, window, scale)
    )
    return f'<path class="wanted" d="{drawn}"/>' if drawn else ""


def _tick(best: float, window: Stretch, scale: float, high: float) -> str:
    first, last = window
    if not first <= best <= last:
        return ""
    x = round((best - first) * scale)
    return f'<path class="best" d="M{x - HALF_TICK} 0h{2 * HALF_TICK}v{high:g}h-{2 * HALF_TICK}z"/>'
