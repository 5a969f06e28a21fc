"""What a lens on a camera can do tonight: which targets it frames, and what to set for each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sky.camera.drift import longest_exposure
from sky.camera.exposure import Iso, iso_for, iso_step
from sky.camera.field import Fields, fields
from sky.camera.framing import Framing, framing
from sky.camera.lens import Lens
from sky.camera.practice import wants_tracker
from sky.camera.sensor import COMMON_SENSORS, Sensor
from sky.camera.steps import ISO_STEPS, longest_step
from sky.camera.tracking import tracker_limit
from trips.almanac.camera import TRACKED_STEPS, Tracker
from trips.almanac.framing import FASTEST_DECLINATION, wanted_of
from trips.almanac.tonight import TargetTonight

# A frame this much darker than asked can be lifted afterwards, a darker one shows its grain.
# Common practice, no published source.
MOST_STOPS_SHORT = 1.0
# What many bring, and as far as they turn ISO up. Common practice, no published source.
USUAL_MM, USUAL_F, USUAL_TOP_ISO = 24.0, 2.8, 12_800
USUAL_BAG_MM = (14.0, 24.0, 35.0, 50.0, 85.0, 135.0, 200.0, 400.0)


@dataclass(frozen=True, slots=True)
class Rig:
    """A lens wide open on a camera, and the highest ISO that its owner accepts; `tracker` where
    there is one that carries it."""

    lens: Lens
    f_number: float
    sensor: Sensor
    top_iso: int
    tracker: Tracker | None = None


@dataclass(frozen=True, slots=True)
class Shot:
    """What to set at the widest aperture; `iso` None where no rule says an exposure.

    `limit_seconds` is how long stars stay points, `seconds` the longest step within it, or a
    shorter one under a bright sky.
    """

    seconds: float
    iso: Iso | None
    limit_seconds: float
    is_tracked: bool

    @property
    def stops_short(self) -> float:
        """How much darker than asked the frame comes out; 0 where the camera reaches it."""
        return max(0.0, -self.iso.stops_off) if self.iso and self.iso.is_at_end else 0.0

    @property
    def is_possible(self) -> bool:
        return self.stops_short <= MOST_STOPS_SHORT


@dataclass(frozen=True, slots=True)
class Take:
    """How a rig takes one target: `framing` None where no field is known, and any lens will do.

    `tracked` None without a tracker that can carry it.
    """

    target: TargetTonight
    framing: Framing | None
    standing: Shot
    tracked: Shot | None

    @property
    def frames(self) -> bool:
        return self.framing is None or self.framing.fit == "frames"

    @property
    def shot(self) -> Shot:
        """Give the way that works with less to carry; where none does, that on the tripod."""
        if self.standing.is_possible or self.tracked is None:
            return self.standing
        return self.tracked if self.tracked.is_possible else self.standing

    @property
    def is_possible(self) -> bool:
        return self.frames and self.shot.is_possible


@dataclass(frozen=True, slots=True)
class UsualTake:
    """A take with a lens that many own, for whoever has not said what they bring."""

    rig: Rig
    take: Take


@dataclass(frozen=True, slots=True)
class LensTonight:
    """What a rig sees, in degrees, and how it takes each target of the night, in their order."""

    rig: Rig
    fields: Fields
    takes: tuple[Take, ...]
    wants_tracker: bool

    @property
    def best(self) -> Take | None:
        """Give the take that counts most: framed and possible, else framed, else None."""
        framed = [take for take in self.takes if take.frames]
        return next((take for take in framed if take.is_possible), framed[0] if framed else None)


def lens_tonight(rig: Rig, targets: Iterable[TargetTonight]) -> LensTonight:
    """Errors: those of the sky's values."""
    return LensTonight(
        rig=rig,
        fields=fields(rig.lens, rig.sensor),
        takes=tuple(take(rig, one) for one in targets),
        wants_tracker=wants_tracker(rig.lens, rig.sensor),
    )


def take(rig: Rig, one: TargetTonight) -> Take:
    """Give how a rig takes a target. Without a declination stars are taken as the fastest."""
    return Take(
        target=one,
        framing=_framing(rig, one),
        standing=standing_shot(rig, one.declination, one.sky_mag),
        tracked=tracked_shot(rig, one.sky_mag) if rig.tracker else None,
    )


def standing_shot(rig: Rig, declination: float | None, sky_mag: float | None) -> Shot:
    toward = FASTEST_DECLINATION if declination is None else declination
    limit = longest_exposure(rig.lens, rig.sensor, toward)
    seconds, iso = _exposed(rig, longest_step(limit), sky_mag)
    return Shot(seconds, iso, limit, is_tracked=False)


def tracked_shot(rig: Rig, sky_mag: float | None) -> Shot | None:
    """Give what to set on the tracker; None without one."""
    if rig.tracker is None:
        return None
    limit = tracker_limit(
        rig.lens,
        rig.sensor,
        polar_error_arcminutes=rig.tracker.polar_arcminutes,
        stated_arcseconds_per_minute=rig.tracker.arcseconds_per_minute,
    )
    longest = next((step for step in TRACKED_STEPS if step <= limit), longest_step(limit))
    seconds, iso = _exposed(rig, longest, sky_mag)
    return Shot(seconds, iso, limit, is_tracked=True)


def _exposed(rig: Rig, longest: float, sky_mag: float | None) -> tuple[float, Iso | None]:
    """Give time and ISO under a sky, shorter where the lowest ISO would be too much."""
    if sky_mag is None:
        return longest, None
    exact = iso_for(f_number=rig.f_number, seconds=longest, sky_mag=sky_mag)
    seconds = longest
    if exact < ISO_STEPS[0]:
        seconds = longest_step(longest * exact / ISO_STEPS[0])
        exact = iso_for(f_number=rig.f_number, seconds=seconds, sky_mag=sky_mag)
    return seconds, iso_step(exact, top=rig.top_iso)


def _framing(rig: Rig, one: TargetTonight) -> Framing | None:
    if one.field_degrees is None:
        return None
    wanted = wanted_of(one.target, one.field_degrees, rig.sensor)
    return framing(rig.lens, rig.sensor, wanted.width, wanted.height)


def usual_take(one: TargetTonight) -> UsualTake:
    """Give the longest usual lens that frames it; the widest one where none does, 24 mm where
    nobody knows how wide a picture is wanted."""
    if one.field_degrees is None:
        rig = _usual(USUAL_MM)
        return UsualTake(rig, take(rig, one))
    found = [UsualTake(rig, take(rig, one)) for rig in map(_usual, USUAL_BAG_MM)]
    framed = [each for each in found if each.take.frames]
    return framed[-1] if framed else found[0]


def _usual(focal_mm: float) -> Rig:
    return Rig(
        Lens(focal_mm, USUAL_F), USUAL_F, COMMON_SENSORS["full-frame"], top_iso=USUAL_TOP_ISO
    )


def best_takes(rigs: Sequence[Rig], one: TargetTonight) -> list[Take]:
    """Give how each rig takes a target, the best first: framed and possible on a tripod, then on
    the tracker, then framed, then the rest."""
    takes = [take(rig, one) for rig in rigs]
    return sorted(takes, key=lambda each: (not each.is_possible, not each.frames,
                                           each.shot.is_tracked))  # fmt: skip
