"""How much room a name beside a dot takes."""

from __future__ import annotations

from trips.charts.dot_names import LETTER, LINE, Box, Label


def box_of(label: Label) -> Box:
    wide = len(label.text) * LETTER
    left = float(label.x) - {"start": 0, "middle": wide / 2, "end": wide}[label.anchor]
    middle = float(label.y) - 4
    # A tenth of a pixel is lost in writing.
    return left + 0.1, middle - LINE / 2 + 0.1, left + wide - 0.1, middle + LINE / 2 - 0.1
