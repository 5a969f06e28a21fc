"""How something in the sky is found from a place in the dark: what stands around it, as values."""

from __future__ import annotations

from dataclasses import dataclass

from sky.camera.sketch import Landmark
from sky.dome import NamedStanding, Standing, WantedStanding, WholeSky


@dataclass(frozen=True, slots=True)
class Counted:
    """Where something stands in fists at arm's length (10°), to half fists.

    `aside` to the right of what is called `name` and stands toward `azimuth_degrees`, negative to
    the left, 0 straight above; `up` from level. Without a landmark the name is a point of the
    compass, and nothing is counted aside from it.
    """

    name: str
    azimuth_degrees: float
    is_landmark: bool
    aside: float
    up: float


@dataclass(frozen=True, slots=True)
class Finding:
    """A sky with one wanted target, where the first of its points is in fists, and the landmarks
    that are seen at night."""

    sky: WholeSky
    counted: Counted
    landmarks: tuple[Landmark, ...]

    @property
    def target(self) -> WantedStanding:
        return self.sky.wanted[0]


@dataclass(frozen=True, slots=True)
class Pointer:
    """A way to a place in the sky from bright stars: from one, or from one through another."""

    stars: tuple[NamedStanding, ...]
    toward: Standing


@dataclass(frozen=True, slots=True)
class PointedSky:
    """A sky with pointers to what is wanted, and the landmarks that are seen at night."""

    sky: WholeSky
    pointers: tuple[Pointer, ...]
    landmarks: tuple[Landmark, ...]
