"""Tape that keeps the focus ring where it is, and covers small lights."""

from __future__ import annotations

from dataclasses import dataclass

from trips.planning.gear.piece import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape(Piece):
    """It has no figures that matter."""
