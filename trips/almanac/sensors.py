"""Sensors of cameras: the common sizes by name, and whether numbers make one."""

from __future__ import annotations

from sky.camera.sensor import COMMON_SENSORS, Sensor
from trips.models import Camera

__all__ = ["COMMON_SENSORS", "Sensor", "check_sensor", "common_sensor"]


def common_sensor(name: str) -> Sensor | None:
    return COMMON_SENSORS.get(name)


def check_sensor(camera: Camera) -> None:
    """Refuse a camera whose numbers make no sensor. Errors: those of `Sensor`."""
    Sensor(camera.sensor_width_mm, camera.sensor_height_mm, camera.pixels_wide, camera.pixels_high)
