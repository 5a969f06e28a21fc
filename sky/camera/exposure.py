"""Which ISO a sky wants: reflected-light exposure of the sky's own luminance.

Source: N²/t = L·S/K with K = 12.5 (ISO 2720:1974 allows 10.6 to 13.4), read as quoted elsewhere.
A meter puts what it measures at mid-grey; a night sky is wanted some stops below.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sky.camera.drift import (
    TRAIL_PX,
    longest_exposure,
    reciprocal_rule,
    trail_px,
)
from sky.camera.lens import Lens
from sky.camera.limits import check
from sky.camera.sensor import Sensor
from sky.camera.steps import ISO_STEPS, longest_step, nearest_step
from sky.light.units import luminance

METER_CONSTANT = 12.5
# How far below mid-grey the sky's background is put, in stops: common practice.
STOPS_BELOW_GREY = 1.5


@dataclass(frozen=True, slots=True)
class Iso:
    """The ISO that a sky wants exactly, and the step of the camera that serves it best.

    `stops_off` is what the step is off by, in stops; below 0 the frame comes out darker than
    asked. More than a sixth means that the camera's series ends there: `is_at_end`.
    """

    exact: float
    step: int

    @property
    def stops_off(self) -> float:
        return math.log2(self.step / self.exact)

    @property
    def is_at_end(self) -> bool:
        return abs(self.stops_off) > 0.2


@dataclass(frozen=True, slots=True)
class Exposure:
    """How long a still camera can look at a place of the sky, and what it then must be set to.

    Seconds: `drift_limit` of a star in the centre, `drift_limit_corner` of the fastest that can
    be in the frame, `rule_500` and `rule_300` (common practice), `suggested` the longest shutter
    step within the centre's limit, `seconds` what was asked for, or the suggested. `trail_px`
    and `trail_corner_px` follow from `seconds`, and so does `iso`.
    """

    drift_limit: float
    drift_limit_corner: float
    rule_500: float
    rule_300: float
    suggested: float
    seconds: float
    trail_px: float
    trail_corner_px: float
    iso: Iso


def exposure_of(
    lens: Lens,
    sensor: Sensor,
    *,
    f_number: float,
    declination: float,
    sky_mag: float,
    allowed_px: float = TRAIL_PX,
    seconds: float | None = None,
    stops_below: float = STOPS_BELOW_GREY,
    top_iso: float = ISO_STEPS[-1],
) -> Exposure:
    """Give times, trails and ISO for a frame centred on a declination under a sky.

    Errors: those of `longest_exposure` and `iso_for`.
    """
    limit = longest_exposure(lens, sensor, declination, allowed_px)
    suggested = longest_step(limit)
    taken = suggested if seconds is None else seconds
    exact = iso_for(f_number=f_number, seconds=taken, sky_mag=sky_mag, stops_below=stops_below)
    return Exposure(
        drift_limit=limit,
        drift_limit_corner=longest_exposure(lens, sensor, declination, allowed_px, "corner"),
        rule_500=reciprocal_rule(lens, sensor),
        rule_300=reciprocal_rule(lens, sensor, 300.0),
        suggested=suggested,
        seconds=taken,
        trail_px=trail_px(lens, sensor, declination, taken),
        trail_corner_px=trail_px(lens, sensor, declination, taken, "corner"),
        iso=iso_step(exact, top=top_iso),
    )


def iso_for(
    *, f_number: float, seconds: float, sky_mag: float, stops_below: float = STOPS_BELOW_GREY
) -> float:
    """Give the exact ISO: K · N² / (L · t) · 2^(−b).

    `sky_mag` in mag/arcsec² toward the frame; `stops_below` b, how far below mid-grey the sky is
    to come out. Errors: `not_a_number`, `f_number_outside`,
    `exposure_time_outside`, `sky_magnitude_outside`, `stops_below_outside`.
    """
    check("f_number", f_number)
    check("exposure_time", seconds)
    check("sky_magnitude", sky_mag)
    check("stops_below", stops_below)
    grey = METER_CONSTANT * f_number**2 / (float(luminance(sky_mag)) * seconds)
    return grey * math.exp2(-stops_below)


def iso_step(exact: float, *, top: float = ISO_STEPS[-1]) -> Iso:
    """Give the nearest third of a stop, from 100 to the camera's highest. Error: `iso_outside`."""
    check("iso", top)
    offered = [step for step in ISO_STEPS if step <= top] or ISO_STEPS[:1]
    return Iso(exact, int(nearest_step(exact, offered)))


def seconds_for(
    *, f_number: float, iso: float, sky_mag: float, stops_below: float = STOPS_BELOW_GREY
) -> float:
    """Give the seconds after which a sky comes out so far below mid-grey: `iso_for` backwards."""
    check("iso", iso)
    return iso_for(f_number=f_number, seconds=1.0, sky_mag=sky_mag, stops_below=stops_below) / iso
