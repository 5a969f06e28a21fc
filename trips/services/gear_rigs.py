"""What somebody's gear comes to under a sky: each lens on each camera that takes it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from trips.almanac.camera import Tracker as TrackerErrors
from trips.almanac.lens_tonight import Rig
from trips.planning.gear import Camera, Gear, Lens, Tracker
from trips.planning.gear.pairs import pairs


@dataclass(frozen=True, slots=True)
class OwnRig:
    """A rig, and whose camera and lens it is; of a zoom there are two, one for each end."""

    camera: Camera
    lens: Lens
    rig: Rig


def rigs_of(gear: Gear) -> Iterator[OwnRig]:
    """Give every rig, the lenses in their order; a tracker where one carries it."""
    for camera, lens in pairs(gear.cameras, gear.lenses):
        tracker = carrying(gear.trackers, camera, lens)
        for end in lens.ends:
            widest = end.widest_f_number or lens.widest_f_number
            yield OwnRig(camera, lens, Rig(end, widest, camera.sensor, camera.top_iso, tracker))


def carrying(trackers: Iterable[Tracker], camera: Camera, lens: Lens) -> TrackerErrors | None:
    """Give the truest tracker that carries both; a weight that nobody said counts as nothing."""
    weight = (camera.weight_kg or 0.0) + (lens.weight_kg or 0.0)
    able = [one for one in trackers if one.payload_kg >= weight]
    best = min(able, key=lambda one: one.stated_error_arcseconds_per_minute, default=None)
    if best is None:
        return None
    return TrackerErrors(best.stated_error_arcseconds_per_minute, best.polar_error_arcminutes)
