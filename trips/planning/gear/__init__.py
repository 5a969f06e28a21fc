"""Gear as values: one kind a file, listed once in `kinds.py`; `bag.py` is what a person has."""

from trips.planning.gear.bag import Gear
from trips.planning.gear.batteries import Batteries
from trips.planning.gear.camera import Camera
from trips.planning.gear.dew_heater import DewHeater
from trips.planning.gear.kinds import KINDS, NAMES, read, written
from trips.planning.gear.lens import Lens
from trips.planning.gear.magnifier import Magnifier
from trips.planning.gear.piece import Piece
from trips.planning.gear.red_light import RedLight
from trips.planning.gear.release import Release
from trips.planning.gear.support import Support
from trips.planning.gear.tape import Tape
from trips.planning.gear.tracker import Tracker

__all__ = [
    "KINDS",
    "NAMES",
    "Batteries",
    "Camera",
    "DewHeater",
    "Gear",
    "Lens",
    "Magnifier",
    "Piece",
    "RedLight",
    "Release",
    "Support",
    "Tape",
    "Tracker",
    "read",
    "written",
]
