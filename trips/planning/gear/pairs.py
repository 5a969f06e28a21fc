"""Which lens goes on which camera: a phone's own lenses on it, every other on every other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from trips.planning.gear.camera import Camera
from trips.planning.gear.lens import Lens


def pairs(cameras: Sequence[Camera], lenses: Sequence[Lens]) -> Iterator[tuple[Camera, Lens]]:
    """Give each lens with each camera that takes it; where none does, with the first: who types a
    phone's equivalent is then told so."""
    for lens in lenses:
        fitting = [one for one in cameras if one.is_phone == lens.is_of_a_phone]
        for camera in fitting or cameras[:1]:
            yield camera, lens
