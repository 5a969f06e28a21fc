"""The place of the pole star around the celestial pole, as a clock's face: 12 straight above.

A unit is a pixel. The ring stands for the star's distance, which the words give.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

FACE = 100  # radius of the clock's face
TICK = 7
RING = 56
# What the star goes in the next three hours, and where its arrow starts.
AHEAD_HOURS, GAP_HOURS = 1.5, 0.45
BARB = 7


@dataclass(frozen=True, slots=True)
class PolePicture:
    """Ready for its template: whole numbers, never localised."""

    star: str
    x: int
    y: int
    name_y: int
    pole_y: int  # of the pole's name, on the side where the star is not
    ticks: str
    way: str
    title: str
    description: str


def pole_picture(
    star: str, face_hours: float, *, clockwise: bool, title: str, description: str
) -> PolePicture:
    """Draw a star at 0 to 12 hours of the face, and which way it goes."""
    x, y = _on_face(face_hours, RING)
    is_low = y >= 0
    return PolePicture(
        star=star,
        x=x,
        y=y,
        name_y=y + 22 if is_low else y - 12,
        pole_y=-12 if is_low else 22,
        ticks="".join(_tick(hour) for hour in range(12)),
        way=_way(face_hours, 1 if clockwise else -1),
        title=title,
        description=description,
    )


def _on_face(hours: float, radius: float) -> tuple[int, int]:
    turn = math.radians(hours * 30)
    return round(radius * math.sin(turn)), round(-radius * math.cos(turn))


def _tick(hour: int) -> str:
    (x, y), (inner_x, inner_y) = _on_face(hour, FACE), _on_face(hour, FACE - TICK)
    return f"M{x} {y}L{inner_x} {inner_y}"


def _way(hours: float, clockwise: int) -> str:
    """Draw an arrow along the ring, the way the star goes: `clockwise` 1 or −1."""
    start, end = hours + clockwise * GAP_HOURS, hours + clockwise * AHEAD_HOURS
    (x, y), (tip_x, tip_y) = _on_face(start, RING), _on_face(end, RING)
    arc = f"M{x} {y}A{RING} {RING} 0 0 {int(clockwise > 0)} {tip_x} {tip_y}"
    back = end - clockwise * 0.3
    barbs = (_on_face(back, RING + BARB), _on_face(back, RING - BARB))
    return arc + "".join(f"M{barb_x} {barb_y}L{tip_x} {tip_y}" for barb_x, barb_y in barbs)
