"""A warm band around the lens."""

from __future__ import annotations

from dataclasses import dataclass

from trips.planning.gear.piece import Piece, figure


@dataclass(frozen=True, slots=True, kw_only=True)
class DewHeater(Piece):
    """How long what feeds it lasts, and the thickest lens that it goes around; None: unknown."""

    hours: float | None = figure(0.5, 72, default=None)
    around_mm: float | None = figure(20, 500, default=None)
