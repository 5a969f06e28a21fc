"""All that a person has: what they bring, and what is lent to them for a night."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from trips.planning.gear.batteries import Batteries
from trips.planning.gear.camera import Camera
from trips.planning.gear.dew_heater import DewHeater
from trips.planning.gear.lens import Lens
from trips.planning.gear.piece import Piece
from trips.planning.gear.red_light import RedLight
from trips.planning.gear.release import Release
from trips.planning.gear.support import Support
from trips.planning.gear.tracker import Tracker

PieceT = TypeVar("PieceT", bound=Piece)


@dataclass(frozen=True, slots=True)
class Gear:
    """`lent` with the evening that each is lent for."""

    own: tuple[Piece, ...] = ()
    lent: tuple[tuple[date, Piece], ...] = ()

    def on(self, evening: date) -> Gear:
        """Give what there is on one night."""
        return Gear(self.own, tuple(one for one in self.lent if one[0] == evening))

    def of(self, kind: type[PieceT]) -> tuple[PieceT, ...]:
        """Give the pieces of a kind, own ones first; one lent for two nights is one."""
        every = dict.fromkeys([*self.own, *(piece for _, piece in self.lent)])
        return tuple(piece for piece in every if isinstance(piece, kind))

    @property
    def cameras(self) -> tuple[Camera, ...]:
        return self.of(Camera)

    @property
    def lenses(self) -> tuple[Lens, ...]:
        return self.of(Lens)

    @property
    def supports(self) -> tuple[Support, ...]:
        return self.of(Support)

    @property
    def trackers(self) -> tuple[Tracker, ...]:
        return self.of(Tracker)

    @property
    def releases(self) -> tuple[Release, ...]:
        return self.of(Release)

    @property
    def batteries(self) -> int:
        return sum(one.number for one in self.of(Batteries))

    @property
    def red_lights(self) -> tuple[RedLight, ...]:
        return self.of(RedLight)

    @property
    def dew_heaters(self) -> tuple[DewHeater, ...]:
        return self.of(DewHeater)
