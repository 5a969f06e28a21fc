"""Which lens of a bag suits a target: what each sees of it, and for how long."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sky.camera.drift import longest_exposure
from sky.camera.field import Fields, fields
from sky.camera.framing import Framing, best_framing
from sky.camera.lens import Lens
from sky.camera.panorama import Panorama, plan_panorama
from sky.camera.panorama import Row as PanoramaRow
from sky.camera.practice import wants_tracker
from sky.camera.sensor import Sensor
from sky.camera.steps import longest_step
from sky.targets.deep_sky import AXES_IN_A_FIELD, find
from sky.targets.target import Arch, FixedPoint, Target
from trips.almanac.camera_parts import MOST_FRAMES

__all__ = [
    "LensForTarget",
    "PanoramaRow",
    "Size",
    "Wanted",
    "declination_of",
    "lenses_for",
    "panorama_for",
    "size_of",
    "usual_field",
    "wanted_of",
]

# The Moon's mean diameter as seen from the Earth, in degrees, which is also that of its eclipses:
# Astronomical Almanac, 31′; from memory.
MOON_DEGREES = 31 / 60
MOONS = ("moon", "lunar-eclipse")
FASTEST_DECLINATION = 0.0


@dataclass(frozen=True, slots=True)
class Size:
    """How large a target is, in degrees: long axis and short."""

    long: float
    short: float


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is wanted of a picture, in degrees; `size` of the target, None where nobody knows one.

    `is_arch`: it stands on the horizon, and its width is one in azimuth.
    """

    width: float
    height: float
    size: Size | None
    is_arch: bool


@dataclass(frozen=True, slots=True)
class LensForTarget:
    """A lens, what it sees, and how a target fits: `framing` and `panorama` None without a field.

    `seconds` the longest shutter step in which stars in the middle stay points, `limit_seconds`
    the exact time; `share` of the frame's width that the target's long axis takes.
    """

    lens: Lens
    fields: Fields
    framing: Framing | None
    panorama: Panorama | None
    share: float | None
    limit_seconds: float
    seconds: float
    wants_tracker: bool

    @property
    def frames(self) -> int:
        return self.panorama.frames if self.panorama else 1


def size_of(target: Target) -> Size | None:
    if target.kind in MOONS:
        return Size(MOON_DEGREES, MOON_DEGREES)
    one = find(target.key.partition(":")[2]) if target.kind == "deep-sky" else None
    if one is None or one.major_arcmin is None:
        return None
    return Size(one.major_arcmin / 60, (one.minor_arcmin or one.major_arcmin) / 60)


def usual_field(target: Target, listed: float | None) -> float | None:
    """Give the field that a target wants where a list says none: of the Moon by the same rule as
    of what lies deeper, of most others nobody knows."""
    if listed is None and target.kind in MOONS:
        return round(AXES_IN_A_FIELD * MOON_DEGREES, 1)
    return listed


def wanted_of(target: Target, width_degrees: float, sensor: Sensor) -> Wanted:
    """A field is the picture's long side; an arch is as high as its top may be, or as wide."""
    point = target.points[0]
    sides = sorted((sensor.width_mm, sensor.height_mm))
    height = width_degrees * sides[0] / sides[1]
    if isinstance(point, Arch):
        height = min(point.highest_top_degrees, width_degrees)
    return Wanted(width_degrees, height, size_of(target), isinstance(point, Arch))


def declination_of(target: Target) -> float | None:
    """Give where a target stands among the stars; None for what moves or spans the sky."""
    point = target.points[0]
    return point.dec_degrees if isinstance(point, FixedPoint) else None


def lenses_for(
    bag: Sequence[Lens],
    sensor: Sensor,
    wanted: Wanted | None,
    *,
    declination: float | None,
) -> list[LensForTarget]:
    """Give every lens of a bag, that which suits best first; without a field in the bag's order.

    Without a declination drift is counted on the sky's equator, where it is fastest. Errors:
    `wanted_field_outside`.
    """
    if wanted is None:
        return [_lens(lens, sensor, None, None, declination) for lens in bag]
    found = best_framing(bag, sensor, wanted.width, wanted.height)
    return [_lens(one.lens, sensor, one, wanted, declination) for one in found]


def _lens(
    lens: Lens,
    sensor: Sensor,
    framing: Framing | None,
    wanted: Wanted | None,
    declination: float | None,
) -> LensForTarget:
    seen = fields(lens, sensor)
    toward = FASTEST_DECLINATION if declination is None else declination
    limit = longest_exposure(lens, sensor, toward)
    seconds = longest_step(limit)
    is_tight = framing is not None and framing.fit == "too-tight"
    size = wanted.size if wanted else None
    return LensForTarget(
        lens=lens,
        fields=seen,
        framing=framing,
        panorama=_panorama(lens, sensor, wanted, seconds) if wanted and is_tight else None,
        share=size.long / seen.horizontal if size else None,
        limit_seconds=limit,
        seconds=seconds,
        wants_tracker=wants_tracker(lens, sensor),
    )


def panorama_for(
    lens: Lens, sensor: Sensor, target: Target, field_degrees: float | None, seconds: float
) -> Panorama | None:
    """Plan the frames of a target that is wider than a lens sees; None of one too wide for it."""
    if field_degrees is None:
        return None
    plan = _panorama(lens, sensor, wanted_of(target, field_degrees, sensor), seconds)
    return plan if plan.frames <= MOST_FRAMES else None


def _panorama(lens: Lens, sensor: Sensor, wanted: Wanted, seconds: float) -> Panorama:
    """Plan the frames, the camera held the way that takes fewer. What is no arch is laid on the
    horizon, where a degree of azimuth is one of the sky."""
    lowest = 0.0 if wanted.is_arch else -wanted.height / 2
    plans = [
        plan_panorama(
            lens,
            held,
            width_degrees=wanted.width,
            lowest=lowest,
            highest=lowest + wanted.height,
            seconds=seconds,
        )
        for held in (sensor, sensor.turned())
    ]
    return min(plans, key=lambda plan: plan.frames)
