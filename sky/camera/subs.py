"""How many sub-exposures a faint glow wants: shot noise of glow and sky, and read noise.

What is assumed: the light of V alone, as if every pixel saw it (a colour sensor sees less, but
takes in more than V); no light lost but by `Detector` and the air; no warmth of the sensor (dark
current), no uneven field, no gradients. Real pictures want more: read it as the least.

Source: signal over noise of counted photons, S/N = T·√n / √(T + S + R²); textbook photometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sky.camera.field import pixel_scale
from sky.camera.lens import Lens
from sky.camera.limits import check
from sky.camera.sensor import Sensor
from sky.light.airmass import airmass

# Photons a second on a cm² outside the air from a star of V = 0: 3640 Jy over dλ/λ = 0.16 (Bessell
# 1979, PASP 91, 589, as lecture notes quote it), a jansky being 1.51e7 photons/s/m² for dλ/λ = 1.
V0_PHOTONS = 3640 * 1.51e7 * 0.16 / 1e4

# Read noise is drowned once it adds no more than a twentieth to the noise: common practice.
DROWNED = 1.05


@dataclass(frozen=True, slots=True)
class Detector:
    """What becomes of light on its way, as shares, and the noise of reading a pixel, electrons.

    All three are assumptions, near what sensors and lenses of the 2020s have.
    """

    quantum_efficiency: float = 0.5
    transmission: float = 0.8
    read_noise: float = 3.0

    def __post_init__(self) -> None:
        check("efficiency", self.quantum_efficiency)
        check("efficiency", self.transmission)
        check("read_noise", self.read_noise)


USUAL_DETECTOR = Detector()


@dataclass(frozen=True, slots=True)
class SubPlan:
    """`number` subs of `seconds` each. Electrons are those of one pixel in one of them.

    `signal_to_noise` what the whole reaches, at least what was wanted; `drowned_seconds` from
    which length of a sub on its read noise hardly counts: shorter ones cost more time in all.
    """

    number: int
    seconds: float
    target_electrons: float
    sky_electrons: float
    signal_to_noise: float
    drowned_seconds: float

    @property
    def total_seconds(self) -> float:
        return self.number * self.seconds


def plan_subs(
    lens: Lens,
    sensor: Sensor,
    *,
    f_number: float,
    seconds: float,
    target_mag: float,
    sky_mag: float,
    altitude: float,
    extinction: float,
    signal_to_noise: float,
    pixels: int = 1,
    detector: Detector = USUAL_DETECTOR,
) -> SubPlan:
    """Give the least number of subs in which a glow stands out of the sky.

    `target_mag` mag/arcsec² outside the air, seen at an apparent altitude through `extinction`
    mag an airmass; `sky_mag` as measured from the ground. `signal_to_noise` wanted of so many
    `pixels` taken together. Errors: the field's name with `_outside`, `not_a_number`.
    """
    check("signal_to_noise", signal_to_noise)
    check("sensor_pixels", pixels)
    check("exposure_time", seconds)
    check("sky_magnitude", sky_mag)
    dimmed = dimmed_mag(target_mag, altitude=altitude, extinction=extinction)
    light = electrons_per_second(lens, sensor, f_number=f_number, detector=detector)
    target, sky = (light * 10 ** (-0.4 * mag) * seconds for mag in (dimmed, sky_mag))
    noise = target + sky + detector.read_noise**2
    number = math.ceil(signal_to_noise**2 * noise / (target**2 * pixels))
    return SubPlan(
        number=number,
        seconds=seconds,
        target_electrons=target,
        sky_electrons=sky,
        signal_to_noise=target * math.sqrt(number * pixels / noise),
        drowned_seconds=detector.read_noise**2 / (sky / seconds * (DROWNED**2 - 1)),
    )


def electrons_per_second(
    lens: Lens, sensor: Sensor, *, f_number: float, detector: Detector = USUAL_DETECTOR
) -> float:
    """Give a pixel's electrons a second from a glow of 0 mag/arcsec²: ×10^(−0.4 m) for another.

    Photons of V = 0 through a round opening f/N wide, times the arcsec² of a pixel, times what
    the detector keeps. Errors: `f_number_outside`, `not_a_number`.
    """
    check("f_number", f_number)
    opening_cm2 = math.pi / 4 * (lens.focal_mm / f_number / 10) ** 2
    kept = detector.quantum_efficiency * detector.transmission
    return V0_PHOTONS * opening_cm2 * pixel_scale(lens, sensor) ** 2 * kept


def dimmed_mag(target_mag: float, *, altitude: float, extinction: float) -> float:
    """Give what air leaves of a glow, in mag/arcsec²: m + k·X, Kasten & Young's airmass.

    Errors: `target_magnitude_outside`, `altitude_outside` (0 to 90), `extinction_outside`.
    """
    check("target_magnitude", target_mag)
    check("height", altitude)
    check("extinction", extinction)
    return target_mag + extinction * float(airmass(altitude))
