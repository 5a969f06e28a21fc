"""Every night of one place, as tests ask for them."""

from __future__ import annotations

from datetime import date

from sky.night import Night
from sky.nights import compute_season, night_of
from sky.place import Place


def nights_of(place: Place, first: date, last: date) -> list[Night]:
    """Compute every night of one place; dates that its zone skipped are left out."""
    table = compute_season([place], first, last)
    found = (night_of(table, 0, number) for number in range(table.nights))
    return [night for night in found if night is not None]
