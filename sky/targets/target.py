"""What can be photographed, as values: what a target is, and what a kind of target can do."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from sky.spans import Spans

# The lights in which a target can be wanted; computed in sky/lights.py and sky/light/usable.py.
Light = Literal["moonless", "usable", "dark", "twilight", "moonlit", "any"]
LIGHTS: tuple[Light, ...] = ("moonless", "usable", "dark", "twilight", "moonlit", "any")


@dataclass(frozen=True, slots=True)
class FixedPoint:
    """A place among the stars: ICRS degrees, right ascension 0 to 360, declination −90 to 90."""

    ra_degrees: float
    dec_degrees: float


@dataclass(frozen=True, slots=True)
class Body:
    """Sun, Moon or planet, by its name in `sky.ephemeris.BODIES`."""

    name: str


@dataclass(frozen=True, slots=True)
class Arch:
    """The band of the Milky Way as an arch over the landscape.

    It stands while its highest point lies between two apparent altitudes, in degrees: a band that
    passes overhead is no arch, and one that lies on the horizon is not seen.
    """

    lowest_top_degrees: float
    highest_top_degrees: float


Point = FixedPoint | Body | Arch

# Gives the spans of a season, first to last evening, in which a target is there at all.
Active = Callable[[date, date], Spans]


@dataclass(frozen=True, slots=True)
class Target:
    """Something to point at.

    `key` names it for good, "kind:rest" (`planet:jupiter`, `deep-sky:NGC0224`); `points` must all
    be up at once, and the first is the one whose altitude and azimuth are told. `active`, where
    there is one, limits it to the time in which it happens (a shower's peak, an eclipse).
    `least_altitude_degrees` None: no other limit than the skyline.
    """

    key: str
    name: str
    points: tuple[Point, ...]
    light: Light
    least_altitude_degrees: float | None
    active: Active | None = None

    @property
    def kind(self) -> str:
        return self.key.partition(":")[0]


@dataclass(frozen=True, slots=True)
class Listing:
    """A target as a list offers it, before anybody asks where it stands.

    `label` the name with what tells it from others; `field_degrees` the field of view it wants,
    None where nobody said; `about` a few plain facts ("galaxy, 3.2° × 1.0°, V 3.4").
    """

    key: str
    label: str
    about: str = ""
    field_degrees: float | None = None
    other_names: tuple[str, ...] = field(default=())


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of target: how its keys are read, and how it is searched.

    `make` takes what follows "kind:" in a key and raises `SkyError("target_unknown", name=…,
    nearest=(…))` where there is no such target. `search` takes what a person typed and gives the
    fitting listings, best first. `all` gives those that are offered unasked.
    """

    name: str
    make: Callable[[str], Target]
    search: Callable[[str], Sequence[Listing]]
    all: Callable[[], Sequence[Listing]]
