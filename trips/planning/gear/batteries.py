"""Batteries of the camera."""

from __future__ import annotations

from dataclasses import dataclass

from trips.planning.gear.piece import Piece, figure


@dataclass(frozen=True, slots=True, kw_only=True)
class Batteries(Piece):
    """`number` charged ones, that in the camera among them."""

    number: int = figure(1, 99, whole=True)
