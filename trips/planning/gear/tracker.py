"""What turns the camera with the sky."""

from __future__ import annotations

from dataclasses import dataclass

from trips.planning.gear.piece import Piece, figure, weight_kg

# How far from the pole people set its axis up with a polar finder. Common practice, no published
# source.
USUAL_POLAR_ARCMINUTES = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tracker(Piece):
    """What it carries, what it strays by itself (″ a minute), how far its axis misses the pole."""

    payload_kg: float = figure(0.1, 100)
    stated_error_arcseconds_per_minute: float = figure(0, 900, default=0.0)
    polar_error_arcminutes: float = figure(0, 600, default=USUAL_POLAR_ARCMINUTES)
    weight_kg: float | None = weight_kg()
