"""What opens the shutter without a finger on the camera."""

from __future__ import annotations

from dataclasses import dataclass

from trips.planning.gear.piece import Piece, choice, yes_or_no


@dataclass(frozen=True, slots=True, kw_only=True)
class Release(Piece):
    """`holds_open`: it can keep the shutter open past 30 s."""

    way: str = choice("cable", "radio", "self-timer", default="cable")
    holds_open: bool = yes_or_no(default=True)
