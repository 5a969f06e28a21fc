"""The civil dusks of a computed season, on which stay-out hours depend."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, timedelta

import numpy as np

from sky.constants import CIVIL_DEGREES
from sky.night import SeasonTable
from sky.span_arrays import below, cut


def civil_dusks(table: SeasonTable) -> Mapping[date, datetime]:
    """Give the civil dusk of each night that has one, at the table's first place."""
    noons = table.noons[0]
    dim = cut(below(table.sun[CIVIL_DEGREES], 0, float(noons[0]), float(noons[-1])), noons)
    starts = dim[~np.isin(dim[:, 0], noons), 0]
    numbers = np.searchsorted(noons, starts, side="right") - 1
    nights = [table.first + timedelta(days=int(number)) for number in numbers]
    # The first of a night that has two.
    return dict(reversed(list(zip(nights, instants(starts), strict=True))))


def instants(unix: Iterable[float]) -> list[datetime]:
    """Give Unix seconds as instants in UTC."""
    return [datetime.fromtimestamp(float(at), UTC) for at in unix]
