"""Paths of nights: a column one unit wide for each, its clock in minutes. Whole numbers only.

A column stands at the count of days since the first night, so a night that is missing leaves a
gap, and a shape breaks by itself where clocks change: nothing is joined across two columns but
by their common side.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from trips.charts.bands import Stretches

Column = tuple[int, int, int]  # where it stands, and the minutes from which and to which it runs

# What a picture shows of a night: 16:00 to 09:00, in minutes after noon.
OPENS, CLOSES = 240, 1260


def columns(
    nights: Iterable[tuple[int, Stretches]], opens: int = OPENS, closes: int = CLOSES
) -> list[Column]:
    """Cut each night's stretches to what the picture shows, in whole minutes."""
    found = []
    for place, stretches in nights:
        for start, end in stretches:
            top = opens if start < opens else int(start + 0.5)
            bottom = closes if end > closes else int(end + 0.5)
            if top < bottom:
                found.append((place, top, bottom))
    return found


def outline(shape: Sequence[Column]) -> str:
    """Draw columns as areas: neighbours that overlap are one area with steps."""
    return "".join(map(_area, _joined(shape)))


def bars(shape: Iterable[Column]) -> str:
    """Draw columns as strokes down their middle, to be stroked one unit wide.

    Half the length of their outlines where neighbours have little in common.
    """
    return "".join([f"M{place} {top}V{bottom}" for place, top, bottom in shape])


def _joined(shape: Sequence[Column]) -> Iterable[list[Column]]:
    """Group columns into areas. A night with two stretches has them in different areas."""
    open_areas: list[list[Column]] = []
    for column in shape:
        place, top, bottom = column
        for area in open_areas:
            last_place, last_top, last_bottom = area[-1]
            if last_place == place - 1 and last_top < bottom and top < last_bottom:
                area.append(column)
                break
        else:
            open_areas.append([column])
        if len(open_areas) > 1:
            yield from (area for area in open_areas if area[-1][0] < place - 1)
            open_areas = [area for area in open_areas if area[-1][0] >= place - 1]
    yield from open_areas


def _area(area: Sequence[Column]) -> str:
    """Go along the tops from left to right, then back along the bottoms."""
    first, top, _ = area[0]
    last, _, bottom = area[-1]
    path = [f"M{first} {top}"]
    place = first
    for column, upper, _ in area:
        if upper != top:
            path.append(f"h{column - place}v{upper - top}")
            place, top = column, upper
    path.append(f"h{last + 1 - place}V{bottom}")
    place = last + 1
    for column, _, lower in reversed(area):
        if lower != bottom:
            path.append(f"h{column + 1 - place}v{lower - bottom}")
            place, bottom = column + 1, lower
    path.append(f"h{first - place}z")
    return "".join(path)
