"""A glass to look at the screen with while focusing."""

from __future__ import annotations

from dataclasses import dataclass

from trips.planning.gear.piece import Piece, figure


@dataclass(frozen=True, slots=True, kw_only=True)
class Magnifier(Piece):
    """`times` it enlarges; None: unknown."""

    times: float | None = figure(1, 50, default=None)
