"""Where directions fall on a sensor, against the projections of FITS as Astropy 8 has them.

Azimuth and altitude stand in for the longitude and latitude of a world coordinate system: TAN is
the rectilinear lens, ARC the equidistant, ZEA the equisolid, STG the stereographic and SIN the
orthographic one (Calabretta & Greisen, Representations of celestial coordinates in FITS,
Astronomy & Astrophysics 395 (2002) 1077, sec. 5.1).
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import AltAz, SkyCoord
from astropy.wcs import WCS
from numpy.typing import NDArray

from sky.camera.frame import Frame, Pointing
from sky.camera.lens import Lens
from sky.camera.projection import Projection
from sky.camera.sensor import COMMON_SENSORS
from sky.stars import bright_stars
from tests.against.astropy_sky import alone, here, refraction, time_of
from trips.almanac.frame import Shot, sketch_of
from trips.almanac.nights import compute_nights
from trips.almanac.places import place_of
from trips.models import Site

Floats = NDArray[np.float64]

CODES: dict[Projection, str] = {
    "rectilinear": "TAN",
    "equidistant": "ARC",
    "equisolid": "ZEA",
    "stereographic": "STG",
    "orthographic": "SIN",
}
FOCAL_MM = 14.0
TOLERANCE_MM = 1e-9 * FOCAL_MM
COUNT = 200
# Random ones, and by the zenith, at it, straight down and level.
HEIGHTS = (-89.9, -35.0, 0.0, 12.0, 63.0, 89.0, 89.9999, 90.0)


def referee(frame: Frame) -> Any:
    """Build the world coordinate system of a frame, whose pixels are degrees."""
    pointing, code = frame.pointing, CODES[frame.lens.projection]
    found = WCS(naxis=2)
    found.wcs.ctype = [f"RA---{code}", f"DEC--{code}"]
    found.wcs.crval = [pointing.azimuth_degrees, pointing.altitude_degrees]
    found.wcs.crpix = [0.0, 0.0]
    found.wcs.cdelt = [1.0, 1.0]  # azimuths grow to the right
    found.wcs.lonpole = 180.0  # at the zenith too
    cos, sin = (f(np.radians(pointing.roll_degrees)) for f in (np.cos, np.sin))
    found.wcs.pc = [[cos, sin], [-sin, cos]]
    return found


@pytest.mark.parametrize("altitude", HEIGHTS)
@pytest.mark.parametrize("projection", CODES)
def test_a_direction_falls_where_astropy_puts_it_and_comes_back(
    projection: Projection, altitude: float
) -> None:
    random = np.random.default_rng(20271)
    for roll in (0.0, float(random.uniform(-180, 180))):
        pointing = Pointing(float(random.uniform(0, 360)), altitude, roll)
        frame = Frame(pointing, Lens(FOCAL_MM, None, projection), COMMON_SENSORS["full-frame"])
        wanted = _inside(frame, random)
        altitudes, azimuths = frame.toward(wanted)
        pixels = referee(frame).wcs_world2pix(np.stack((azimuths, altitudes), axis=-1), 1)
        theirs = np.radians(pixels) * FOCAL_MM
        ours = frame.on_sensor(altitudes, azimuths)
        assert np.abs(ours - theirs).max() < TOLERANCE_MM
        assert np.abs(ours - wanted).max() < TOLERANCE_MM
        assert frame.holds(altitudes, azimuths).all()


def _inside(frame: Frame, random: np.random.Generator) -> Floats:
    """Give random places of the picture, none nearer to its edge than a hair."""
    half = np.array((frame.sensor.width_mm, frame.sensor.height_mm)) / 2
    places = random.uniform(-1, 1, (COUNT, 2)) * half * 0.999
    inside: Floats = places[np.hypot(*places.T) < (frame.circle_mm or np.inf) * 0.999]
    return inside


@pytest.mark.parametrize(
    ("latitude", "zone", "pointing"),
    [(40.4, "Europe/Madrid", Pointing(185.0, 25.0)), (-29.0, "UTC", Pointing(120.0, 50.0, 30.0))],
)
def test_stars_begin_and_end_on_the_sensor_where_astropy_sees_them(
    latitude: float, zone: str, pointing: Pointing
) -> None:
    """Astropy's stars of both instants, lifted by the air, through the projection of FITS: within a
    tenth of a pixel of 6 µm. Proper motion is left out on both sides."""
    site = Site(name="Hill", latitude=latitude, longitude=-1.1, elevation_m=900, zone=zone)
    instant, seconds = datetime(2027, 7, 4, 1, 5, tzinfo=UTC), 300.0
    (row,) = compute_nights(site, instant.date(), instant.date())
    shot = Shot(Lens(24.0), COMMON_SENSORS["full-frame"], seconds)
    sketch = sketch_of(row, site, None, instant, shot=shot, pointing=pointing)
    assert len(sketch.starts) > 50
    for ours, later in ((sketch.starts, 0.0), (sketch.ends, seconds)):
        theirs = _seen_by_astropy(site, instant.timestamp() + later)
        pixels = referee(sketch.frame).wcs_world2pix(theirs, 1)
        on_sensor = np.radians(pixels[np.isfinite(pixels).all(axis=1)]) * 24.0
        apart = np.hypot(*(ours[:, None] - on_sensor[None]).transpose(2, 0, 1)).min(axis=1)
        assert apart.max() < 0.0006
    moved = np.hypot(*(sketch.ends - sketch.starts).T)
    assert moved.max() > 0.2, "and they do move"


def _seen_by_astropy(site: Site, unix: float) -> Floats:
    """Give azimuth and apparent altitude of the bright stars before a camera (star, 2)."""
    place, vectors = place_of(site), bright_stars().vectors
    with alone():
        frame = AltAz(obstime=time_of(np.array(unix)), location=here(place), pressure=0 * u.hPa)
        ra, dec = np.arctan2(vectors[:, 1], vectors[:, 0]), np.arcsin(vectors[:, 2])
        seen = SkyCoord(ra * u.rad, dec * u.rad).transform_to(frame)
    height = seen.alt.deg
    up = height > -1
    lifted = height + refraction(height, place.elevation_m)
    found: Floats = np.stack((seen.az.deg, lifted), axis=-1)[up]
    return found
