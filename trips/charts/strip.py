"""A night as a strip of a few pixels: the bands of the season chart laid on their side."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from django.utils.html import escape

from trips.charts.bands import NightBands, Stretch, Stretches

# Units a pixel: whole numbers to a tenth of a pixel, without the bytes of decimal points.
FINE = 10
# By how much the usable block passes the strip above and below: its outline is cut off there and
# stays at both ends.
BEYOND = 2 * FINE
# The strips of all tables have the season chart's 16:00 to 09:00, so that nights compare by eye.
ROW_WINDOW = (240, 1260)


def night_strip(
    bands: NightBands,
    first: float,
    last: float,
    width: float,
    height: float,
    *,
    sized: bool = True,
    label: str = "",
) -> str:
    """Draw the night between two minutes after noon of the evening.

    A band is one horizontal line, as thick as the style sheet makes it: half the bytes of a
    rectangle. Day is the strip's own ground. The veil's opacity is lit^0.8 of the most that the
    look allows. `sized` False leaves the size to the style sheet. Without a `label` the strip says
    nothing to a screen reader: words must stand beside it.
    """
    window = (first, last)
    scale = FINE * width / (last - first)
    lines = [
        *band_lines(bands, window, scale),
        _block(bands.usable, window, scale, height * FINE),
    ]
    return framed(lines, width, height, sized=sized, label=label)


def band_lines(bands: NightBands, window: Stretch, scale: float) -> list[str]:
    """Draw the sky of a strip, each darker band over the lighter, the Moon's light over them."""
    return [
        _line("b-civil", bands.civil, window, scale),
        _line("b-nautical", bands.nautical, window, scale),
        _line("b-astronomical", bands.astronomical, window, scale),
        _line("b-dark", bands.dark, window, scale),
        _line("veil", bands.veil, window, scale, f' stroke-opacity="{veil_opacity(bands.lit)}"'),
    ]


def framed(lines: Iterable[str], width: float, height: float, *, sized: bool, label: str) -> str:
    size = f' width="{width:g}" height="{height:g}"' if sized else ""
    said = f'role="img" aria-label="{escape(label)}"' if label else 'aria-hidden="true"'
    box = f'viewBox="0 0 {width * FINE:g} {height * FINE:g}"'
    return f'<svg class="strip"{size} {box} {said}>{"".join(lines)}</svg>'


def strip_hours(first: float, last: float, width: float) -> str:
    """Draw the hours over a column of strips: ticks and figures every four hours."""
    scale = width / (last - first)
    ticks = [(minute - first) * scale for minute in whole_hours(first, last, 4)]
    hours = [f"{clock_hour(minute):02d}" for minute in whole_hours(first, last, 4)]
    marks = "".join(f"M{x:g} 16v4" for x in _rounded(ticks))
    texts = "".join(
        f'<text x="{x:g}" y="12"{_anchor(x, width)}>{hour}</text>'
        for x, hour in zip(_rounded(ticks), hours, strict=True)
    )
    return (
        f'<svg class="strip-hours" width="{width:g}" height="20" viewBox="0 0 {width:g} 20"'
        f' aria-hidden="true"><path d="{marks}"/>{texts}</svg>'
    )


def veil_opacity(lit: float) -> str:
    """Give lit^0.8: even a thin Moon shows, and a full one does not hide the bands."""
    return f"{lit**0.8:.2g}".removeprefix("0") or "0"


def whole_hours(first: float, last: float, step: int) -> list[int]:
    """Give the minutes after noon of the clock's hours that divide by `step`."""
    start = -(-int(first) // 60)
    return [hour * 60 for hour in range(start, int(last) // 60 + 1) if (hour + 12) % step == 0]


def clock_hour(minute: float) -> int:
    return int(minute // 60 + 12) % 24


def _line(name: str, stretches: Stretches, window: Stretch, scale: float, more: str = "") -> str:
    drawn = "".join(f"M{a} 0H{b}" for a, b in inside(stretches, window, scale))
    return f'<path class="{name}"{more} d="{drawn}"/>' if drawn else ""


def _block(usable: Stretch | None, window: Stretch, scale: float, height: float) -> str:
    for a, b in inside((usable,) if usable else (), window, scale):
        return f'<path class="usable" d="M{a}-{BEYOND}H{b}V{height + BEYOND:g}H{a}z"/>'
    return ""


def inside(stretches: Stretches, window: Stretch, scale: float) -> Iterator[tuple[int, int]]:
    """Give the ends in the strip's units; nothing of what lies outside the window."""
    first, last = window
    for start, end in stretches:
        a = round((max(start, first) - first) * scale)
        b = round((min(end, last) - first) * scale)
        if a < b:
            yield a, b


def _rounded(values: list[float]) -> list[float]:
    return [round(value, 1) for value in values]


def _anchor(x: float, width: float) -> str:
    """Keep the figures at both ends inside the picture."""
    if x < 8:
        return ' class="first"'
    return ' class="last"' if x > width - 8 else ""
