"""A target and what lenses see around it, one frame in the other, all to one scale of degrees.

A unit is a pixel of a phone's screen. What is wider than a few times the wanted field is left
out: beside it the target would be a speck. So is what would be a speck itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

WIDTH, HEIGHT = 352.0, 260.0
MARGIN = 16.0
# Frames wider than so many wanted fields are named and not drawn.
WIDEST = 6.0
LEAST_RADIUS, LEAST_WIDTH = 1.5, 24.0
# Names stand on the lines, each at another corner than the next frame's; of a frame that is hardly
# wider than its name, above it or below.
ASIDE, BASELINE = 8.0, 4.0
NAME_WIDTH, ABOVE, BELOW = 72.0, -4.0, 12.0
CORNERS = ((-1, -1), (1, 1), (1, -1), (-1, 1))
BAR_STEPS = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50)
BAR_SHARE = 0.3


@dataclass(frozen=True, slots=True)
class SeenFrame:
    """What a lens sees, in degrees; `is_circle` a fisheye's."""

    name: str
    width: float
    height: float
    is_circle: bool = False
    is_best: bool = False


@dataclass(frozen=True, slots=True)
class DrawnFrame:
    """A box around the middle, its name at a corner; `round` the radius of its corners."""

    name: str
    x: str
    y: str
    width: str
    height: str
    round: str
    is_best: bool
    name_x: str
    name_y: str
    anchor: str


@dataclass(frozen=True, slots=True)
class NestedPicture:
    """Ready for its template; `target` the half axes of an ellipse, None where it has no size."""

    frames: tuple[DrawnFrame, ...]
    target: tuple[str, str] | None
    wanted: tuple[str, str, str, str] | None
    bar: str
    bar_degrees: str
    bar_x: str
    wider: tuple[str, ...]
    narrower: tuple[str, ...]
    title: str
    description: str


def nested_picture(
    frames: Sequence[SeenFrame],
    *,
    wanted: tuple[float, float],
    target: tuple[float, float] | None,
    title: str,
    description: str,
) -> NestedPicture:
    """Draw frames around a target; `wanted` width and height, `target` its axes, in degrees."""
    near = [frame for frame in frames if frame.is_best or frame.width <= WIDEST * wanted[0]]
    widest = max([wanted[0], *(frame.width for frame in near)])
    highest = max([wanted[1], *(frame.height for frame in near)])
    scale = min((WIDTH - 2 * MARGIN) / widest, (HEIGHT - 3 * MARGIN) / highest)
    drawn = [frame for frame in near if frame.is_best or frame.width * scale >= LEAST_WIDTH]
    drawn.sort(key=lambda frame: -frame.width)
    bar = max(step for step in BAR_STEPS if step * scale <= BAR_SHARE * WIDTH or step == 0.1)
    return NestedPicture(
        frames=tuple(_frame(frame, n, scale) for n, frame in enumerate(drawn)),
        target=_ellipse(target, scale) if target else None,
        wanted=_box(*wanted, scale),
        bar=_bar(bar * scale),
        bar_degrees=f"{bar:g}°",
        bar_x=_n(MARGIN + bar * scale + 6),
        wider=tuple(frame.name for frame in frames if frame not in near),
        narrower=tuple(frame.name for frame in near if frame not in drawn),
        title=title,
        description=description,
    )


def _frame(frame: SeenFrame, at: int, scale: float) -> DrawnFrame:
    x, y, width, height = _box(frame.width, frame.height, scale)
    name_x, name_y, anchor = _name(frame.width * scale / 2, frame.height * scale / 2, at)
    return DrawnFrame(
        name=frame.name,
        x=x,
        y=y,
        width=width,
        height=height,
        round=_n(frame.width * scale / 2) if frame.is_circle else "0",
        is_best=frame.is_best,
        name_x=_n(name_x),
        name_y=_n(name_y),
        anchor=anchor,
    )


def _name(half_width: float, half_height: float, at: int) -> tuple[float, float, str]:
    """Give where the name of the frame that comes `at` is written, and how it is anchored."""
    side, up = CORNERS[at % len(CORNERS)]
    line = _middle() + up * half_height
    if 2 * half_width < NAME_WIDTH:
        return WIDTH / 2, line + (ABOVE if up < 0 else BELOW), "middle"
    return WIDTH / 2 + side * (half_width - ASIDE), line + BASELINE, "start" if side < 0 else "end"


def _box(width: float, height: float, scale: float) -> tuple[str, str, str, str]:
    wide, high = width * scale, height * scale
    return _n(WIDTH / 2 - wide / 2), _n(_middle() - high / 2), _n(wide), _n(high)


def _ellipse(target: tuple[float, float], scale: float) -> tuple[str, str]:
    long, short = (max(axis * scale / 2, LEAST_RADIUS) for axis in target)
    return _n(long), _n(short)


def _bar(length: float) -> str:
    start, end, y = MARGIN, MARGIN + length, HEIGHT - 8
    ends = "".join(f"M{_n(x)} {_n(y - 4)}V{_n(y + 4)}" for x in (start, end))
    return f"M{_n(start)} {_n(y)}H{_n(end)}{ends}"


def _middle() -> float:
    """Leave room for the bar under the frames."""
    return (HEIGHT - MARGIN) / 2


def _n(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
