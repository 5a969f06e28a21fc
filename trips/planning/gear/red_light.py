"""A lamp that leaves eyes used to the dark."""

from __future__ import annotations

from dataclasses import dataclass

from trips.planning.gear.piece import Piece, yes_or_no


@dataclass(frozen=True, slots=True, kw_only=True)
class RedLight(Piece):
    """`starts_red`: it comes on red, without going through white."""

    starts_red: bool = yes_or_no(default=True)
