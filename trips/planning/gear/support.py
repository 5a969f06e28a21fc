"""What the camera stands on."""

from __future__ import annotations

from dataclasses import dataclass

from trips.planning.gear.piece import Piece, choice, figure, weight_kg, yes_or_no


@dataclass(frozen=True, slots=True, kw_only=True)
class Support(Piece):
    """A tripod. None: nobody knows. `leg_mm` is the diameter of the thickest tube, `height_cm`
    how high it holds the camera with the centre column down; `centre_column` is as it is used."""

    leg_mm: float | None = figure(3, 100, default=None)
    sections: int | None = figure(1, 8, whole=True, default=None)
    centre_column: str = choice("unknown", "none", "lowered", "raised", default="unknown")
    leg_lock: str = choice("unknown", "twist", "flip", default="unknown")
    has_level: bool = yes_or_no()
    turns: bool = yes_or_no()
    is_travel: bool = yes_or_no()
    folded_cm: float | None = figure(5, 250, default=None)
    height_cm: float | None = figure(5, 400, default=None)
    load_kg: float | None = figure(0.1, 200, default=None)
    weight_kg: float | None = weight_kg()
