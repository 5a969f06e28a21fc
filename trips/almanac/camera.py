"""The door to sky's camera: what a lens and a sensor make of a sky, as values for pages."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from sky.camera.drift import longest_exposure
from sky.camera.exposure import Exposure, exposure_of, iso_for, seconds_for
from sky.camera.field import Fields, fields, pixel_scale
from sky.camera.lens import Lens
from sky.camera.limits import LIMITS, check
from sky.camera.limits import Field as Limited
from sky.camera.panorama import Panorama, plan_panorama
from sky.camera.projection import Projection
from sky.camera.sensor import COMMON_SENSORS, Sensor
from sky.camera.sharpness import Hyperfocal, hyperfocal
from sky.camera.steps import ISO_STEPS, longest_step
from sky.camera.subs import SubPlan, plan_subs
from sky.camera.tracking import error_per_minute, tracker_limit
from sky.light.brightness import EXTINCTION, Bodies, LocalSky, sky_toward
from trips.models import Camera

__all__ = ["Fields", "Lens", "Limited", "Projection", "Sensor", "check", "fields"]

# What most fisheyes come close to. Common practice, no published source.
USUAL_FISHEYE: Projection = "equisolid"
# mag/arcsec² that a place stands for: common practice, no published source; skies of one kind
# differ by half a magnitude.
SKIES = {"town": 18.0, "village": 20.0, "country": 21.0, "far": 21.8}
# Declinations, in degrees, of what people point at.
DECLINATIONS = {"core": -29.0, "equator": 0.0, "between": 45.0, "pole": 89.0}
# Phase angles, in degrees, of a Moon that is 15, 50 and 100 % lit; and where it is taken to be.
MOONS = {"none": None, "thin": 134.4, "half": 90.0, "full": 0.0}
MOON_UP_DEGREES = 30.0
SUN_FAR_DOWN_DEGREES = -40.0

# On a tracker a gust, a lamp or an aeroplane spoils a frame, and should spoil no more than that.
# Common practice, no published source.
TRACKED_STEPS = (120.0, 90.0, 60.0, 45.0, 30.0)
# What the plan of sub-exposures takes for granted. Five times the grain is what an eye is sure of:
# Rose's criterion; from memory.
SUBS_ALTITUDE_DEGREES, SUBS_SIGNAL_TO_NOISE = 45.0, 5.0

LimitedBy = Literal["drift", "tracker", "light"]


@dataclass(frozen=True, slots=True)
class Tracker:
    """What it strays by itself, in arcseconds a minute, and how far its axis misses the pole."""

    arcseconds_per_minute: float
    polar_arcminutes: float


@dataclass(frozen=True, slots=True)
class Question:
    """A camera under a sky. `dark_mag` toward the frame without the Moon; degrees and pixels."""

    lens: Lens
    sensor: Sensor
    f_number: float
    top_iso: int
    dark_mag: float
    moon: str
    declination: float
    trail_px: float
    tracker: Tracker | None
    has_snow: bool
    faint_mag: float
    wide_degrees: float
    high_degrees: float


@dataclass(frozen=True, slots=True)
class Answer:
    """What to set, and what it rests on.

    `limit_seconds` is how long the camera may look, standing or tracking; `limited_by` what the
    time of `exposure` follows from, and `trail_px` the line that a star in the centre then draws.
    """

    sky_mag: float
    exposure: Exposure
    limit_seconds: float
    limited_by: LimitedBy
    trail_px: float
    fields: Fields
    arcseconds_per_pixel: float
    hyperfocal: Hyperfocal
    subs: SubPlan
    panorama: Panorama


def answer(asked: Question) -> Answer:
    """Errors: those of what was asked, in the camera's own words."""
    lens, sensor = asked.lens, asked.sensor
    sky_mag = moonlit_mag(asked.dark_mag, asked.moon)
    limit = _limit(asked)
    seconds, limited_by = _seconds(asked, limit, sky_mag)
    exposure = exposure_of(
        lens,
        sensor,
        f_number=asked.f_number,
        declination=asked.declination,
        sky_mag=sky_mag,
        allowed_px=asked.trail_px,
        seconds=seconds,
        top_iso=asked.top_iso,
    )
    return Answer(
        sky_mag=sky_mag,
        exposure=exposure,
        limit_seconds=limit,
        limited_by=limited_by,
        trail_px=_tracked_px(asked, asked.tracker, seconds) if asked.tracker else exposure.trail_px,
        fields=fields(lens, sensor),
        arcseconds_per_pixel=pixel_scale(lens, sensor),
        hyperfocal=hyperfocal(lens, sensor, f_number=asked.f_number),
        subs=_subs(asked, seconds, sky_mag),
        panorama=plan_panorama(
            lens,
            sensor.turned(),
            width_degrees=asked.wide_degrees,
            lowest=0.0,
            highest=asked.high_degrees,
            seconds=seconds,
        ),
    )


def _limit(asked: Question) -> float:
    if asked.tracker is None:
        return longest_exposure(asked.lens, asked.sensor, asked.declination, asked.trail_px)
    return tracker_limit(
        asked.lens,
        asked.sensor,
        polar_error_arcminutes=asked.tracker.polar_arcminutes,
        stated_arcseconds_per_minute=asked.tracker.arcseconds_per_minute,
        trail_px=asked.trail_px,
    )


def _seconds(asked: Question, limit: float, sky_mag: float) -> tuple[float, LimitedBy]:
    """Give the longest step within the limit, or a shorter one where the sky is too bright."""
    steps = TRACKED_STEPS if asked.tracker else ()
    seconds = next((step for step in steps if step <= limit), longest_step(limit))
    if iso_for(f_number=asked.f_number, seconds=seconds, sky_mag=sky_mag) >= ISO_STEPS[0]:
        return seconds, "tracker" if asked.tracker else "drift"
    enough = seconds_for(f_number=asked.f_number, iso=ISO_STEPS[0], sky_mag=sky_mag)
    return longest_step(enough), "light"


def _tracked_px(asked: Question, tracker: Tracker, seconds: float) -> float:
    strays = error_per_minute(tracker.polar_arcminutes, tracker.arcseconds_per_minute)
    return strays / 60 * seconds / pixel_scale(asked.lens, asked.sensor)


def _subs(asked: Question, seconds: float, sky_mag: float) -> SubPlan:
    return plan_subs(
        asked.lens,
        asked.sensor,
        f_number=asked.f_number,
        seconds=seconds,
        target_mag=asked.faint_mag,
        sky_mag=sky_mag,
        altitude=SUBS_ALTITUDE_DEGREES,
        extinction=EXTINCTION,
        signal_to_noise=SUBS_SIGNAL_TO_NOISE,
    )


def sensor_names() -> tuple[str, ...]:
    return tuple(COMMON_SENSORS)


def sensor_by_name(name: str, megapixels: float | None = None) -> Sensor:
    """Give a common sensor with its usual pixels, or with as many as its pictures are said to have.

    Errors: `sensor_pixels_outside`.
    """
    sensor = COMMON_SENSORS[name]
    return sensor if megapixels is None else with_megapixels(sensor, megapixels)


def with_megapixels(sensor: Sensor, megapixels: float) -> Sensor:
    wide = math.sqrt(megapixels * 1e6 * sensor.width_mm / sensor.height_mm)
    return sensor_typed(sensor.width_mm, sensor.height_mm, round(wide))


def sensor_typed(width_mm: float, height_mm: float, pixels_wide: int) -> Sensor:
    """Give a sensor whose pixels are square. Errors: those of `Sensor`."""
    check("sensor_size", width_mm)
    check("sensor_size", height_mm)
    return Sensor(width_mm, height_mm, pixels_wide, round(pixels_wide * height_mm / width_mm))


def sensor_of(camera: Camera) -> Sensor:
    """Errors: those of `Sensor`."""
    return Sensor(
        camera.sensor_width_mm, camera.sensor_height_mm, camera.pixels_wide, camera.pixels_high
    )


def moonlit_mag(dark_mag: float, moon: str) -> float:
    """Give the mag/arcsec² of a sky overhead with a Moon of `MOONS` 30° up, 60° from there."""
    phase_angle = MOONS[moon]
    if phase_angle is None:
        return dark_mag
    bodies = Bodies(
        sun_altitude=np.array([SUN_FAR_DOWN_DEGREES]),
        sun_azimuth=np.zeros(1),
        moon_altitude=np.array([MOON_UP_DEGREES]),
        moon_azimuth=np.zeros(1),
        moon_phase_angle=np.array([phase_angle]),
    )
    light = sky_toward(LocalSky(natural_mag=dark_mag), 90.0, 0.0, bodies)
    # Lamps of the brightest sky there is drown the Moon, and are not to be topped.
    return max(float(light.magnitude[0]), LIMITS["sky_magnitude"].low)
