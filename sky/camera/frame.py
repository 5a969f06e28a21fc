"""Where a direction falls on the sensor of a camera that is pointed somewhere, and back.

The camera stands level and looks at an azimuth and an altitude; x goes to the right of its picture
and y up, in mm from the middle, as the picture is seen: the sky from inside, so that azimuths grow
to the right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sky.camera.field import edge_mm
from sky.camera.lens import Lens
from sky.camera.projection import angle_degrees, radius_mm, widest_degrees
from sky.camera.sensor import Sensor
from sky.constants import DEGREE
from sky.errors import SkyError

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Side = Literal["left", "right", "above", "below", "behind"]

# The ring of `outline`: no nearer than this, so that no line of steps of a few degrees jumps over
# a narrow frame, and short of the angle that a rectilinear lens would draw at infinity.
NEAREST_RING_DEGREES, SHORT_OF_DEGREES = 15.0, 4.0
# Further from where the camera looks, something is behind it.
BEHIND_DEGREES = 90.0
# A side of the picture is looked at in so many places.
EDGE_POINTS = 65
# So that every direction has a side on which it lies, the middle too.
NEXT_TO_NONE = 1e-300


@dataclass(frozen=True)
class Pointing:
    """Where the middle of the frame looks, in degrees, and how the camera is turned around that.

    Azimuth from true north through east, of any turn; apparent altitude −90 to 90; roll clockwise
    as its user sees it, so that a level horizon falls to the left. Errors: `not_a_number`,
    `altitude_outside`.
    """

    azimuth_degrees: float
    altitude_degrees: float
    roll_degrees: float = 0.0

    def __post_init__(self) -> None:
        for name in ("azimuth", "altitude", "roll"):
            value = getattr(self, f"{name}_degrees")
            if not math.isfinite(value):
                raise SkyError("not_a_number", field=name, value=value)
        if not -90 <= self.altitude_degrees <= 90:
            raise SkyError("altitude_outside", value=self.altitude_degrees, low=-90.0, high=90.0)

    @cached_property
    def axes(self) -> Floats:
        """Give unit vectors (right, up, forward) × (east, north, up) of the place.

        At the zenith the azimuth still says which way the picture's lower edge is.
        """
        turn, height, roll = (
            math.radians(value)
            for value in (self.azimuth_degrees, self.altitude_degrees, self.roll_degrees)
        )
        forward = vectors(self.altitude_degrees, self.azimuth_degrees)
        right = np.array((math.cos(turn), -math.sin(turn), 0.0))
        low, high = math.sin(height), math.cos(height)
        up = np.array((-low * math.sin(turn), -low * math.cos(turn), high))
        cos, sin = math.cos(roll), math.sin(roll)
        return np.stack((cos * right - sin * up, sin * right + cos * up, forward))


@dataclass(frozen=True, slots=True)
class Beyond:
    """How far a direction lies outside a picture, in degrees, and on which side."""

    degrees: float
    side: Side


@dataclass(frozen=True)
class Frame:
    """A camera on its tripod: `sensor` as it is held, landscape or portrait."""

    pointing: Pointing
    lens: Lens
    sensor: Sensor

    def on_sensor(self, altitudes: ArrayLike, azimuths: ArrayLike) -> Floats:
        """Give the mm (…, 2) to the right of the middle and above it of directions in degrees.

        NaN where the projection has no place. What the frame holds of them says `holds`.
        """
        return self._placed(*self._polar(altitudes, azimuths))

    def outline(self, altitudes: ArrayLike, azimuths: ArrayLike) -> Floats:
        """Give the same with what has no place, or is far outside, moved onto a ring around the
        frame, in the direction in which it lies: for lines that run on beyond the edge."""
        off_axis, around = self._polar(altitudes, azimuths)
        return self._placed(np.minimum(off_axis, self.ring_degrees), around)

    def toward(self, places: Floats) -> tuple[Floats, Floats]:
        """Give altitudes and azimuths (0 to 360) in degrees of places (…, 2) in mm; NaN outside
        the circle at which the projection ends. The inverse of `on_sensor`."""
        x, y = places[..., 0], places[..., 1]
        radius = np.hypot(x, y)
        off_axis = angle_degrees(radius, self.lens.focal_mm, self.lens.projection) * DEGREE
        around = np.arctan2(y, x)
        aside = np.sin(off_axis)
        seen = np.stack((aside * np.cos(around), aside * np.sin(around), np.cos(off_axis)), axis=-1)
        found = seen @ self.pointing.axes
        east, north, up = found[..., 0], found[..., 1], found[..., 2]
        altitude = np.arctan2(up, np.hypot(east, north)) / DEGREE
        return altitude, np.arctan2(east, north) / DEGREE % 360.0

    def holds(self, altitudes: ArrayLike, azimuths: ArrayLike) -> Bools:
        """Tell which directions the picture shows."""
        return self.shows(self.on_sensor(altitudes, azimuths))

    def shows(self, places: Floats) -> Bools:
        """Tell which places (…, 2) in mm lie on the sensor, and in the circle of a fisheye."""
        x, y = np.abs(places[..., 0]), np.abs(places[..., 1])
        on_sensor = (x <= self.sensor.width_mm / 2) & (y <= self.sensor.height_mm / 2)
        if self.circle_mm is None:
            return on_sensor
        return on_sensor & (np.hypot(x, y) <= self.circle_mm)

    @cached_property
    def circle_mm(self) -> float | None:
        """Give the radius of a fisheye's circle where it leaves the corners of the frame black."""
        edge = edge_mm(self.lens, self.sensor)
        return edge if edge < self.sensor.diagonal_mm / 2 else None

    @cached_property
    def reach_degrees(self) -> float:
        """Give the angle from the middle to the furthest place that the picture shows."""
        return self.lens.angle_degrees(edge_mm(self.lens, self.sensor))

    @cached_property
    def ring_degrees(self) -> float:
        """Give the angle of the ring of `outline`: well outside the frame."""
        widest = widest_degrees(self.lens.projection) - SHORT_OF_DEGREES
        outside = max(2 * self.reach_degrees, NEAREST_RING_DEGREES)
        return max(min(outside, widest), self.reach_degrees)

    def beyond(self, altitude: float, azimuth: float) -> Beyond | None:
        """Tell how far outside the picture a direction lies, from what is nearest to it on the
        edge; None of one that it shows."""
        if self.holds(altitude, azimuth):
            return None
        nearest = float((self._edge @ vectors(altitude, azimuth)).max())
        degrees = math.acos(min(nearest, 1.0)) / DEGREE
        off_axis, _around = self._polar(altitude, azimuth)
        if off_axis > BEHIND_DEGREES:
            return Beyond(degrees, "behind")
        x, y = self.outline(altitude, azimuth).tolist()
        if abs(x) * self.sensor.height_mm >= abs(y) * self.sensor.width_mm:
            return Beyond(degrees, "right" if x > 0 else "left")
        return Beyond(degrees, "above" if y > 0 else "below")

    @cached_property
    def _edge(self) -> Floats:
        """Give unit vectors (point, 3) toward what is on the edge of the picture."""
        along, end = np.linspace(-0.5, 0.5, EDGE_POINTS), np.full(EDGE_POINTS, 0.5)
        shares = ((along, end), (along, -end), (end, along), (-end, along))
        places = np.concatenate([np.stack(side, axis=-1) for side in shares])
        places *= (self.sensor.width_mm, self.sensor.height_mm)
        if self.circle_mm is not None:
            places *= np.minimum(1.0, self.circle_mm / np.hypot(*places.T))[:, None]
        return vectors(*self.toward(places))

    def _polar(self, altitudes: ArrayLike, azimuths: ArrayLike) -> tuple[Floats, Floats]:
        """Give the angle from the middle in degrees, and the unit vector (…, 2) in which it lies
        on the sensor; right of the middle is what is right in it, or right behind."""
        seen = vectors(altitudes, azimuths) @ self.pointing.axes.T
        x, y, z = seen[..., 0] + NEXT_TO_NONE, seen[..., 1], seen[..., 2]
        aside = np.hypot(x, y)
        return np.arctan2(aside, z) / DEGREE, np.stack((x, y), axis=-1) / aside[..., None]

    def _placed(self, off_axis: Floats, around: Floats) -> Floats:
        radius = radius_mm(off_axis, self.lens.focal_mm, self.lens.projection)
        return radius[..., None] * around


def vectors(altitudes: ArrayLike, azimuths: ArrayLike) -> Floats:
    """Give unit vectors (…, 3) to the east, the north and up of directions in degrees."""
    altitude, azimuth = np.asarray(altitudes) * DEGREE, np.asarray(azimuths) * DEGREE
    level = np.cos(altitude)
    east = level * np.sin(azimuth)
    found = np.empty((*east.shape, 3))
    found[..., 0], found[..., 1], found[..., 2] = east, level * np.cos(azimuth), np.sin(altitude)
    return found
