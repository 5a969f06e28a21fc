"""A lens: a focal length or the two ends of a zoom, how wide it opens, how it draws."""

from __future__ import annotations

from dataclasses import dataclass

from sky.camera.lens import Lens as SkyLens
from sky.camera.practice import PHONE_LENS_UP_TO_MM
from sky.camera.projection import Projection
from sky.errors import SkyError
from trips.planning.gear.piece import Piece, choice, figure, weight_kg


@dataclass(frozen=True, slots=True, kw_only=True)
class Lens(Piece):
    """`longest_mm` None: no zoom; `widest_at_longest` None: the same at both ends.

    Errors: those of `Piece` and of sky's `Lens`, `zoom_reversed`.
    """

    focal_mm: float = figure(0, 10_000)
    longest_mm: float | None = figure(0, 10_000, default=None)
    widest_f_number: float = figure(0, 64)
    widest_at_longest: float | None = figure(0, 64, default=None)
    projection: Projection = choice(  # noqa: RUF009  # a field, as all the others
        "rectilinear", "equisolid", "equidistant", "stereographic", "orthographic",
        default="rectilinear",
    )  # fmt: skip
    weight_kg: float | None = weight_kg()

    def __post_init__(self) -> None:
        Piece.__post_init__(self)
        if self.longest_mm is not None and self.longest_mm <= self.focal_mm:
            raise SkyError("zoom_reversed", shortest=self.focal_mm, longest=self.longest_mm)
        _ = self.ends

    @property
    def ends(self) -> tuple[SkyLens, ...]:
        """Give the lens as sky knows it: one, or a zoom's two ends, the shorter first."""
        short = SkyLens(self.focal_mm, self.widest_f_number, self.projection)
        if self.longest_mm is None:
            return (short,)
        at_long = self.widest_at_longest or self.widest_f_number
        return short, SkyLens(self.longest_mm, at_long, self.projection)

    @property
    def is_of_a_phone(self) -> bool:
        return self.focal_mm <= PHONE_LENS_UP_TO_MM and self.longest_mm is None
