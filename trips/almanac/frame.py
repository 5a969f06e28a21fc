"""What a camera takes in from a spot at an instant of a stored night, and where to point it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sky.camera.field import edge_mm
from sky.camera.frame import Frame, Pointing
from sky.camera.lens import Lens
from sky.camera.sensor import Sensor
from sky.camera.sketch import Landmark as DrawnLandmark
from sky.camera.sketch import Sketch
from sky.constants import DEGREE
from sky.dome import StarField
from sky.moving import directions_at
from sky.place import Place
from sky.skyline import LEVEL
from sky.stars import bright_stars, directions_at_once
from sky.targets.target import Target
from trips.almanac.places import place_of
from trips.almanac.spots import place_of_spot, skyline_of_spot
from trips.almanac.whole_sky import whole_sky
from trips.models import Landmark, Night, Site, Spot

__all__ = ["Aim", "Pointing", "Shot", "Sketch", "declination_of", "pointing_at", "sketch_of"]

Floats = NDArray[np.float64]
# How the target is put into the frame: in its middle, or over land that fills the lower third, the
# camera raised where the target stands too high for that.
Aim = Literal["middle", "land"]

# In the dark the sketch has all stars of the table; light takes them as in the whole sky's picture.
DARK_FAINTEST = 5.5
WHOLE_SKY_FAINTEST = 5.0
NO_STARS = StarField(np.empty(0), np.empty(0), np.empty(0), ())
# A third of the frame below the land's edge leaves that edge a sixth below the middle; a target a
# third above the middle is a sixth below the upper edge.
LAND_SHARE, TARGET_SHARE = 1 / 6, 1 / 3


@dataclass(frozen=True, slots=True)
class Shot:
    """A lens on a sensor as it is held, and for how long it is open."""

    lens: Lens
    sensor: Sensor
    seconds: float


def pointing_at(
    target: Target, aim: Aim, shot: Shot, *, site: Site, spot: Spot | None, instant: datetime
) -> Pointing:
    """Give where a level camera looks that has a target in the middle, left to right.

    One that is below the level is looked at along the level. Errors: those of Place and of the
    skyline, and `instant_outside`.
    """
    place = _place(site, spot)
    found = directions_at(target.points[0], place, np.array([instant.timestamp()]))
    altitude, azimuth = float(found.altitude_degrees[0]), float(found.azimuth_degrees[0])
    if aim == "land":
        skyline = skyline_of_spot(spot) if spot else LEVEL
        land = float(skyline.at(np.array([azimuth]))[0])
        altitude = max(land + _aside(shot, LAND_SHARE), altitude - _aside(shot, TARGET_SHARE))
    return Pointing(azimuth, min(max(altitude, 0.0), 90.0))


def _aside(shot: Shot, share: float) -> float:
    """Give the degrees that so much of the picture's height lies from its middle."""
    height_mm = min(shot.sensor.height_mm, 2 * edge_mm(shot.lens, shot.sensor))
    return shot.lens.angle_degrees(share * height_mm)


def declination_of(pointing: Pointing, place: Place) -> float:
    """Give the declination of where a camera looks, in degrees, refraction left out."""
    latitude, altitude = place.latitude * DEGREE, pointing.altitude_degrees * DEGREE
    toward_north = math.cos(pointing.azimuth_degrees * DEGREE)
    sine = math.sin(latitude) * math.sin(altitude)
    sine += math.cos(latitude) * math.cos(altitude) * toward_north
    return math.degrees(math.asin(min(max(sine, -1.0), 1.0)))


def sketch_of(
    row: Night, site: Site, spot: Spot | None, instant: datetime, *,
    shot: Shot, pointing: Pointing, wanted: Sequence[Target] = (),
    landmarks: Sequence[Landmark] = (),
) -> Sketch:  # fmt: skip
    """Give what is in a frame, without a spot over a level horizon.

    Stars are those that the land leaves. `wanted` targets that do not happen in this night are
    left out. Errors: those of `whole_sky`.
    """
    frame = Frame(pointing, shot.lens, shot.sensor)
    sky = whole_sky(row, site, spot, instant, wanted, stars=NO_STARS)
    stars, place = bright_stars(), _place(site, spot)
    seen = directions_at_once(stars.vectors, place, instant)
    is_bright = stars.magnitudes <= sky.faintest + DARK_FAINTEST - WHOLE_SKY_FAINTEST
    is_open = seen.altitude_degrees > sky.skyline.at(seen.azimuth_degrees)
    shown = np.flatnonzero(is_bright & is_open)
    starts = frame.on_sensor(seen.altitude_degrees[shown], seen.azimuth_degrees[shown])
    is_held = frame.shows(starts)
    held = shown[is_held]
    end = instant + timedelta(seconds=shot.seconds)
    last = directions_at_once(stars.vectors[held], place, end)
    field = StarField(
        altitudes=seen.altitude_degrees[held],
        azimuths=seen.azimuth_degrees[held],
        magnitudes=stars.magnitudes[held],
        names=tuple(stars.names[star] for star in held.tolist()),
    )
    return Sketch(
        frame=frame,
        sky=replace(sky, stars=field),
        landmarks=tuple(drawn_landmark(one) for one in landmarks),
        seconds=shot.seconds,
        starts=starts[is_held],
        ends=frame.outline(last.altitude_degrees, last.azimuth_degrees),
    )


def drawn_landmark(one: Landmark) -> DrawnLandmark:
    return DrawnLandmark(one.name, one.azimuth_degrees, one.top_degrees, one.width_degrees or 0.0)


def _place(site: Site, spot: Spot | None) -> Place:
    return place_of_spot(spot) if spot else place_of(site)
