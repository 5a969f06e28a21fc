"""Windows of a year as bytes: little-endian doubles, so that a thousand rows are read at once.

`spans`: start and end of each span, in Unix seconds. `bests`: for each night with a window the
instant at which the target is highest, its apparent and geometric altitude and its azimuth.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.windows import Windows

Floats = NDArray[np.float64]

DOUBLE = "<f8"


@dataclass(frozen=True, slots=True)
class Bests:
    """Arrays of one length, a night each, in order."""

    at: Floats
    altitude: Floats
    altitude_geometric: Floats
    azimuth: Floats


def pack_spans(windows: Windows) -> bytes:
    return windows.spans.astype(DOUBLE).tobytes()


def pack_bests(windows: Windows) -> bytes:
    columns = (
        windows.best_at,
        windows.best_altitude,
        windows.best_altitude_geometric,
        windows.best_azimuth,
    )
    return np.stack(columns).astype(DOUBLE).tobytes()


def unpack_spans(stored: bytes | memoryview) -> Floats:
    """Give the spans (span, 2); SQLite gives bytes, PostgreSQL a view of them."""
    return np.frombuffer(stored, DOUBLE).reshape(-1, 2)


def unpack_bests(stored: bytes | memoryview) -> Bests:
    return Bests(*np.frombuffer(stored, DOUBLE).reshape(4, -1))
