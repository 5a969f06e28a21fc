"""The kinds of gear by name, read from what is stored and written to it.

A new kind is one file here, one line below, and its words in `almanac/gear_words.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING
from typing import Any

from sky.errors import SkyError
from trips.planning.gear.batteries import Batteries
from trips.planning.gear.camera import Camera
from trips.planning.gear.dew_heater import DewHeater
from trips.planning.gear.lens import Lens
from trips.planning.gear.magnifier import Magnifier
from trips.planning.gear.piece import Piece, said
from trips.planning.gear.red_light import RedLight
from trips.planning.gear.release import Release
from trips.planning.gear.support import Support
from trips.planning.gear.tape import Tape
from trips.planning.gear.tracker import Tracker

KINDS: dict[str, type[Piece]] = {
    "camera": Camera,
    "lens": Lens,
    "support": Support,
    "tracker": Tracker,
    "release": Release,
    "batteries": Batteries,
    "red_light": RedLight,
    "dew_heater": DewHeater,
    "magnifier": Magnifier,
    "tape": Tape,
}
NAMES = {kind: name for name, kind in KINDS.items()}


def read(kind: str, spec: Mapping[str, Any], *, name: str = "") -> Piece:
    """Give the piece that a spec tells of; what its kind does not know is left out.

    Errors, all `SkyError`: `gear_kind_unknown`, those of the piece.
    """
    if kind not in KINDS:
        raise SkyError("gear_kind_unknown", kind=kind)
    told = {one.name: spec.get(one.name) for one in said(KINDS[kind])}
    for one in said(KINDS[kind]):
        if told[one.name] is None and one.default is not MISSING:
            told[one.name] = one.default
    return KINDS[kind](name=name, **told)


def written(piece: Piece) -> dict[str, Any]:
    """Give what `read` makes the same piece from, but for its name: plain JSON."""
    told = {one.name: getattr(piece, one.name) for one in said(type(piece))}
    return {name: value for name, value in told.items() if value is not None}
