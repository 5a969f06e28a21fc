"""Which lens of a bag frames a field, and by what margin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sky.camera.field import fields
from sky.camera.lens import Lens
from sky.camera.limits import check
from sky.camera.sensor import Sensor

Fit = Literal["frames", "too-loose", "too-tight"]
FITS: tuple[Fit, ...] = ("frames", "too-loose", "too-tight")

# With more than twice the field that is wanted, what is wanted gets lost in it: common practice.
LOOSE_MARGIN = 2.0


@dataclass(frozen=True, slots=True)
class Framing:
    """How a lens frames a field: `margin` is what it takes in over what is wanted.

    Of both sides the tighter one counts, with the camera held the better way; 1 fills the frame.
    """

    lens: Lens
    is_portrait: bool
    margin: float

    @property
    def fit(self) -> Fit:
        if self.margin < 1:
            return "too-tight"
        return "too-loose" if self.margin > LOOSE_MARGIN else "frames"


def framing(
    lens: Lens, sensor: Sensor, wanted_degrees: float, height_degrees: float | None = None
) -> Framing:
    """Give how a lens frames a wanted field, in degrees; as high as wide unless said.

    A square fits either way and the camera is held landscape. Errors: `wanted_field_outside`,
    `not_a_number`.
    """
    height = wanted_degrees if height_degrees is None else height_degrees
    check("wanted_field", wanted_degrees)
    check("wanted_field", height)
    seen = fields(lens, sensor)
    landscape = min(seen.horizontal / wanted_degrees, seen.vertical / height)
    portrait = min(seen.vertical / wanted_degrees, seen.horizontal / height)
    return Framing(lens, portrait > landscape, max(landscape, portrait))


def best_framing(
    bag: Sequence[Lens],
    sensor: Sensor,
    wanted_degrees: float,
    height_degrees: float | None = None,
) -> list[Framing]:
    """Give the framing of every lens of a bag, the best first.

    First those that frame the field, then the too loose ones (a picture can be cropped), each
    the tightest first; last the too tight ones, the nearest to enough first. An empty bag gives
    none. Errors: those of `framing`.
    """
    found = [framing(lens, sensor, wanted_degrees, height_degrees) for lens in bag]
    return sorted(found, key=_worse)


def _worse(one: Framing) -> tuple[int, float]:
    return FITS.index(one.fit), abs(one.margin - 1)
