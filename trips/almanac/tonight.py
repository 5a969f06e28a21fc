"""The wanted targets of one night as a camera meets them: where, when, under how bright a sky."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from sky.camera.limits import LIMITS
from sky.dome import Standing
from sky.light.brightness import LocalSky, bodies_at, sky_toward
from sky.place import Place
from sky.span_arrays import intersect
from sky.targets.kinds import target_of
from sky.targets.target import Arch, Target
from trips.almanac.framing import declination_of, usual_field
from trips.almanac.local_sky import local_sky
from trips.almanac.night_targets import (
    AbsentTarget,
    Best,
    Floats,
    NightTarget,
    Pair,
    best_left,
    holds,
    night_targets,
    within,
)
from trips.almanac.sky_brightness import has_a_sky
from trips.almanac.windows import spot_place
from trips.models import Site, Spot, TargetEntry

# No rule with a source says how to expose a twilight: times only.
NO_EXPOSURE_LIGHTS = ("twilight",)


@dataclass(frozen=True, slots=True)
class TargetTonight:
    """A target at its best moment (Unix seconds) inside its windows, `spans`; `standing` then.

    `sky_mag` toward it then, with Moon and twilight; None where no exposure follows from the
    sky: in twilight, and of what is as bright as the Moon. `declination` None for what moves or
    spans the sky; `field_degrees` None where nobody knows how wide a picture is wanted.
    """

    name: str
    target: Target
    at: float
    spans: tuple[Pair, ...]
    standing: Standing
    sky_mag: float | None
    declination: float | None
    field_degrees: float | None
    weight: float

    @property
    def is_arch(self) -> bool:
        return isinstance(self.target.points[0], Arch)


@dataclass(frozen=True, slots=True)
class Tonight:
    """What stands right while people are out, what counts most first; `overhead_mag` without the
    Moon. `at_other_hours` stand right in that night only before or after.
    """

    evening: date
    targets: tuple[TargetTonight, ...]
    at_other_hours: tuple[str, ...]
    absent: tuple[AbsentTarget, ...]
    overhead_mag: float
    is_measured: bool


def tonight(
    entries: Iterable[TargetEntry],
    site: Site,
    spot: Spot | None,
    evening: date,
    *,
    dark_level: int,
    hours: Pair | None = None,
) -> Tonight:
    """`hours`, from and to in Unix seconds, are those in which people are out: all of the night
    without. Errors: those of `night_targets` and `local_sky`."""
    found = night_targets(entries, site, spot, evening, dark_level=dark_level, with_usable=False)
    sky, place = local_sky(site), spot_place(site, spot)
    then = [(one, within(one, hours, place) if hours else one) for one in found.seen]
    seen = [one for _, one in then if one]
    toward = _toward([one.best for one in seen], sky, place)
    told = [_told(one, mag) for one, mag in zip(seen, toward, strict=True)]
    return Tonight(
        evening=evening,
        targets=tuple(sorted(told, key=lambda one: -one.weight)),
        at_other_hours=tuple(one.entry.name for one, inside in then if inside is None),
        absent=found.absent,
        overhead_mag=sky.overhead_mag,
        is_measured=sky.is_measured,
    )


def between(one: TargetTonight, hours: Pair, site: Site, spot: Spot | None) -> TargetTonight:
    """Give a target as it stands in some of its hours: best there, under the sky of that moment."""
    spans = intersect(np.array(one.spans), np.array([hours]))
    if holds(spans, one.at):
        return replace(one, spans=_pairs(spans))
    place = spot_place(site, spot)
    best = best_left(one.target, spans, None, place)
    mag = one.sky_mag
    if mag is not None:
        mag = _toward([best], local_sky(site), place)[0]
    return replace(one, at=best.at, standing=best.standing, spans=_pairs(spans), sky_mag=mag)


def _pairs(spans: Floats) -> tuple[Pair, ...]:
    return tuple((start, end) for start, end in spans.tolist())


def _toward(seen: Sequence[Best], sky: LocalSky, place: Place) -> list[float]:
    at = np.array([one.at for one in seen])
    height = np.array([one.standing.altitude_degrees for one in seen])
    azimuth = np.array([one.standing.azimuth_degrees for one in seen])
    light = sky_toward(sky, height, azimuth, bodies_at(place, at))
    mags: list[float] = light.magnitude.tolist()
    return mags


def _told(one: NightTarget, mag: float) -> TargetTonight:
    target = target_of(one.entry.target)
    is_night = mag >= LIMITS["sky_magnitude"].low
    is_exposed = is_night and one.light not in NO_EXPOSURE_LIGHTS and has_a_sky(one)
    return TargetTonight(
        name=one.entry.name,
        target=target,
        at=one.best.at,
        spans=one.spans,
        standing=one.best.standing,
        sky_mag=mag if is_exposed else None,
        declination=declination_of(target),
        field_degrees=usual_field(target, one.entry.field_degrees),
        weight=one.entry.weight,
    )
