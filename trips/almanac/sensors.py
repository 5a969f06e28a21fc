"""Sizes of sensors that are common, by name, for those who do not know their camera's."""

from __future__ import annotations

from django.utils.translation import gettext_lazy

from sky.camera.sensor import COMMON_SENSORS, Sensor
from trips.models import Camera

__all__ = ["SENSORS", "Sensor", "check_sensor", "common_sensor"]

SENSORS = {
    "medium-format": gettext_lazy("medium format, 43.8 × 32.9 mm"),
    "full-frame": gettext_lazy("full frame, 36 × 24 mm"),
    "full-frame-fine": gettext_lazy("full frame, 36 × 24 mm, fine pixels"),
    "aps-c": gettext_lazy("APS-C, 23.5 × 15.6 mm"),
    "four-thirds": gettext_lazy("four thirds, 17.3 × 13 mm"),
    "one-inch": gettext_lazy("1 inch, 13.2 × 8.8 mm"),
    "phone-main": gettext_lazy("phone, main camera"),
    "phone-small": gettext_lazy("phone, second camera"),
}


def common_sensor(name: str) -> Sensor | None:
    return COMMON_SENSORS.get(name)


def check_sensor(camera: Camera) -> None:
    """Refuse a camera whose numbers make no sensor. Errors: those of `Sensor`."""
    Sensor(camera.sensor_width_mm, camera.sensor_height_mm, camera.pixels_wide, camera.pixels_high)
