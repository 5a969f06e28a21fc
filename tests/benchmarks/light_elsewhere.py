"""Brightness along a night, usable dark of a month and the stars of a frame: ours, and through two
libraries that anybody has.

python -m tests.benchmarks.light_elsewhere [--tenth]

No library has the light of the sky. What is compared is therefore the same light, once from where
we say that targets, Sun and Moon stand, and once from where Skyfield or Astropy says so, each asked
for whole arrays at once. Usable dark between their instants is straight, so that they are asked for
every minute: as the Moon rises the sky changes in a step. Stars fall into a frame through Astropy's
directions and its projection of FITS.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import partial
from typing import Any

import astropy.units as u
import numpy as np
from astropy.coordinates import AltAz, SkyCoord, get_body
from astropy.coordinates.erfa_astrom import ErfaAstromInterpolator, erfa_astrom
from astropy.wcs import WCS
from numpy.typing import NDArray

from sky.camera.frame import Frame, Pointing
from sky.camera.lens import Lens
from sky.camera.sensor import COMMON_SENSORS
from sky.directions import refraction_degrees
from sky.ephemeris import timescale
from sky.fixed import FixedSky
from sky.light.brightness import Bodies, bodies_at, sky_toward
from sky.light.usable import DarkEnough, usable_spans
from sky.lights import light_spans
from sky.moving import all_standings
from sky.night import SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.span_arrays import intersect, spread
from sky.stars import bright_stars, directions_at_once
from sky.targets.kinds import all_listings, target_of
from sky.targets.target import FixedPoint
from tests.against import skyfield_search
from tests.against.astropy_sky import alone, here, time_of
from tests.benchmarks.measuring import best_ms, is_tenth
from tests.benchmarks.windows_elsewhere import (
    astropy_directions,
    clear_spans,
    skyfield_directions,
)

Floats = NDArray[np.float64]
# Altitudes and azimuths of points in degrees, apparent, each (point, instant).
Standing = tuple[Floats, Floats]

PLACE = Place(40.4, -1.1, 1600, "Europe/Madrid")
EVENING, MONTH_END = date(2027, 7, 10), date(2027, 8, 8)
TARGETS, STEP_SECONDS, MINUTE = 20, 300.0, 60.0
INSTANT = datetime(2027, 7, 3, 23, 3, tzinfo=UTC)
ENOUGH = DarkEnough()
# How far the answers may lie apart, and how many times as long the libraries take at least.
MOST_MAG, MOST_SECONDS, MOST_PIXELS, LEAST_TIMES = 0.001, 30.0, 0.3, 5.0


def main() -> None:
    runs = 1 if is_tenth(__doc__) else 5
    points = deep_sky()
    nights = compute_season([PLACE], EVENING, MONTH_END)
    dusky = light_spans(nights, 0, "usable")
    for library in LIBRARIES:
        brightness(library, points, dusky[:1], runs)
    for library in LIBRARIES:
        usable(library, points, nights, runs)
    stars_of_a_frame(runs)


@dataclass(frozen=True, slots=True)
class Library:
    name: str
    standing: Callable[[Sequence[FixedPoint], Floats], Standing]
    bodies: Callable[[Floats], Bodies]


def deep_sky() -> list[FixedPoint]:
    keys = [one.key for one in all_listings() if one.key.startswith("deep-sky:")][:TARGETS]
    firsts = [target_of(key).points[0] for key in keys]
    return [point for point in firsts if isinstance(point, FixedPoint)]


def told(what: str, ours: float, name: str, theirs: float, apart: str) -> None:
    times = theirs / ours
    print(f"{what:26} ours {ours:7.1f} ms, {name:8} {theirs:9.1f} ms, {times:5.0f} ×; {apart}")
    assert times >= LEAST_TIMES


def brightness(library: Library, points: Sequence[FixedPoint], night: Floats, runs: int) -> None:
    unix = spread(night, STEP_SECONDS)[1]

    def ours() -> Floats:
        seen = all_standings(points, PLACE, unix)
        stand = seen.altitude_degrees, seen.azimuth_degrees
        return sky_toward(ENOUGH.sky, *stand, bodies_at(PLACE, unix)).magnitude

    def theirs() -> Floats:
        stand = library.standing(points, unix)
        return sky_toward(ENOUGH.sky, *stand, library.bodies(unix)).magnitude

    apart = float(np.abs(ours() - theirs()).max())
    spent = best_ms(ours, 5 * runs), best_ms(theirs, runs)
    told("brightness along a night", spent[0], library.name, spent[1], f"{apart:.1e} mag apart")
    assert apart < MOST_MAG


def usable(library: Library, points: Sequence[FixedPoint], nights: SeasonTable, runs: int) -> None:
    dusky, noons = light_spans(nights, 0, "usable"), nights.noons[0]
    unix = spread(dusky, MINUTE)[1]

    def ours() -> list[Floats]:
        dates = EVENING, MONTH_END
        sky = FixedSky.over(points, PLACE, dates, float(noons[0]), float(noons[-1]))
        return usable_spans(sky.directions, PLACE, [dusky] * len(points), ENOUGH)

    def theirs() -> list[Floats]:
        light = sky_toward(ENOUGH.sky, *library.standing(points, unix), library.bodies(unix))
        room = ENOUGH.loss_mag - light.loss_mag
        return [intersect(clear_spans(row, unix), dusky) for row in room]

    both = zip(ours(), theirs(), strict=True)
    apart = np.mean([abs(lasting(one) - lasting(other)) for one, other in both]) / nights.nights
    spent = best_ms(ours, 3 * runs), best_ms(theirs, 1)
    told(
        "usable dark of 30 nights", spent[0], library.name, spent[1], f"{apart:.0f} s a night apart"
    )
    assert apart < MOST_SECONDS


def lasting(spans: Floats) -> float:
    return float(np.diff(spans).sum())


def stars_of_a_frame(runs: int) -> None:
    lens, sensor, pointing = Lens(24.0), COMMON_SENSORS["full-frame"], Pointing(180.0, 35.0)
    frame, stars = Frame(pointing, lens, sensor), bright_stars().vectors
    ra, dec = np.degrees(np.arctan2(stars[:, 1], stars[:, 0])), np.degrees(np.arcsin(stars[:, 2]))
    projection = WCS(naxis=2)
    projection.wcs.ctype = ["RA---TAN", "DEC--TAN"]
    projection.wcs.crval = [pointing.azimuth_degrees, pointing.altitude_degrees]
    projection.wcs.cdelt = [1.0, 1.0]  # azimuths grow to the right

    def ours() -> Floats:
        seen = directions_at_once(stars, PLACE, INSTANT)
        return frame.on_sensor(seen.altitude_degrees, seen.azimuth_degrees)

    def theirs() -> Floats:
        with alone():
            time = time_of(np.array([INSTANT.timestamp()]))[0]
            level = AltAz(obstime=time, location=here(PLACE), pressure=0 * u.hPa)
            seen: Any = SkyCoord(ra * u.deg, dec * u.deg).transform_to(level)
            height, around = seen.alt.deg, seen.az.deg
        height = lifted(height)
        places: Floats = projection.wcs_world2pix(np.stack((around, height), axis=-1), 1)
        return np.radians(places) * lens.focal_mm

    held = frame.shows(ours())
    pixels = float(np.hypot(*(ours() - theirs())[held].T).max()) * 1000 / sensor.pixel_um
    spent = best_ms(ours, 5 * runs), best_ms(theirs, runs)
    told("stars of a frame", spent[0], "Astropy", spent[1], f"{pixels:.2f} pixels apart")
    assert pixels < MOST_PIXELS


def by_library(directions: Any, points: Sequence[FixedPoint], unix: Floats) -> Standing:
    height, around = directions(points, PLACE, unix)
    return lifted(height), around


def skyfield_bodies(unix: Floats) -> Bodies:
    time = timescale().tt_jd(time_of(unix).tt.jd)
    with skyfield_search.kernel() as kernel:
        observer = skyfield_search.observer(kernel, PLACE).at(time)
        earth, sun, moon = kernel["earth"].at(time), kernel["sun"], kernel["moon"]
        lights = [observer.observe(body).apparent().altaz() for body in (sun, moon)]
        phase = earth.observe(moon).apparent().phase_angle(sun).degrees
    return _bodies([(height.degrees, around.degrees) for height, around, _ in lights], phase)


def astropy_bodies(unix: Floats) -> Bodies:
    with alone(), erfa_astrom.set(ErfaAstromInterpolator(1 * u.hour)):
        time = time_of(unix)
        frame = AltAz(obstime=time, location=here(PLACE), pressure=0 * u.hPa)
        sun, moon = (get_body(name, time) for name in ("sun", "moon"))
        lights: list[Any] = [body.transform_to(frame) for body in (sun, moon)]
        apart, far, near = sun.separation(moon).rad, sun.distance.km, moon.distance.km
    phase = np.degrees(np.arctan2(far * np.sin(apart), near - far * np.cos(apart)))
    return _bodies([(seen.alt.deg, seen.az.deg) for seen in lights], phase)


def _bodies(lights: Sequence[Standing], phase: Floats) -> Bodies:
    (sun, sun_around), (moon, moon_around) = lights
    return Bodies(lifted(sun), sun_around, lifted(moon), moon_around, phase)


def lifted(height: Floats) -> Floats:
    """Add refraction, which is ours on both sides."""
    return height + refraction_degrees(height, PLACE.elevation_m)


LIBRARIES = (
    Library("Skyfield", partial(by_library, skyfield_directions), skyfield_bodies),
    Library("Astropy", partial(by_library, astropy_directions), astropy_bodies),
)


if __name__ == "__main__":
    main()
