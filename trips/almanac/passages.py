"""Where a track stands clear of a skyline: where it comes out, is highest, and goes behind."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sky.skyline import Skyline
from trips.almanac.tracks import Track

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a target stands at one time, in degrees and Unix seconds."""

    azimuth: float
    altitude: float
    at: float


@dataclass(frozen=True, slots=True)
class Passage:
    """A stretch in the clear. `clears` and `hides` are None where it began, or goes on, in view."""

    clears: Stand | None
    highest: Stand
    hides: Stand | None


def passages(track: Track, skyline: Skyline) -> list[Passage]:
    """Find the stretches of a track above a skyline, in order of time.

    Between the points of the track it is taken for straight: good to a degree and a minute. A day
    is taken for a round: what stands in the clear at both its noons is one stretch.
    """
    if not track.points:
        return []
    azimuth, altitude = np.array(track.points).T
    rows = np.stack((azimuth, altitude, np.array(track.times), altitude - skyline.at(azimuth)))
    if track.is_round:
        rows = np.roll(rows[:, :-1], -int(np.argmin(rows[3, :-1])), axis=1)
    clear = rows[3] > 0
    edges = [0, *(np.flatnonzero(np.diff(clear)) + 1).tolist(), len(clear)]
    return [_passage(rows, start, end) for start, end in pairwise(edges) if clear[start]]


def _passage(rows: Floats, start: int, end: int) -> Passage:
    top = start + int(np.argmax(rows[1, start:end]))
    return Passage(
        clears=_between(rows, start) if start > 0 else None,
        highest=Stand(*rows[:3, top].tolist()),
        hides=_between(rows, end) if end < rows.shape[1] else None,
    )


def _between(rows: Floats, after: int) -> Stand:
    """Give where the track crosses the skyline before a point."""
    first, last = rows[:, after - 1], rows[:, after]
    share = first[3] / (first[3] - last[3])
    turn = (last[0] - first[0] + 180) % 360 - 180
    later = last[2] - first[2]
    return Stand(
        float((first[0] + share * turn) % 360),
        float(first[1] + share * (last[1] - first[1])),
        float(first[2] + share * (later if later > 0 else 0.0)),
    )
