"""Exposures and fields as plain records for JSON and CSV, in seconds, degrees and pixels."""

from __future__ import annotations

from typing import Any

from sky.camera.drift import TRAIL_PX
from sky.camera.exposure import STOPS_BELOW_GREY, Exposure, exposure_of
from sky.camera.field import fields, pixel_scale
from sky.camera.lens import Lens
from sky.camera.projection import PROJECTIONS, Projection
from sky.camera.sensor import Sensor, sensor_of
from sky.camera.steps import ISO_STEPS

__all__ = [
    "ISO_STEPS",
    "PROJECTIONS",
    "STOPS_BELOW_GREY",
    "TRAIL_PX",
    "Exposure",
    "Lens",
    "Projection",
    "Sensor",
    "exposure_of",
    "exposure_record",
    "field_record",
    "sensor_of",
]

Record = dict[str, Any]


def exposure_record(found: Exposure) -> Record:
    """Give times to the millisecond; `iso` as computed, `iso_step` as cameras offer it."""
    iso = found.iso.exact
    return {
        "drift_limit_s": round(found.drift_limit, 3),
        "drift_limit_corner_s": round(found.drift_limit_corner, 3),
        "rule_500_s": round(found.rule_500, 3),
        "rule_300_s": round(found.rule_300, 3),
        "suggested_time_s": round(found.suggested, 4),
        "iso": round(iso) if iso >= 100 else round(iso, 2),
        "iso_step": found.iso.step,
        "trail_px": round(found.trail_px, 2),
        "trail_corner_px": round(found.trail_corner_px, 2),
    }


def field_record(lens: Lens, sensor: Sensor, *, has_pixels: bool) -> Record:
    """Give degrees, and the arcseconds of a pixel in the middle where pixels are known."""
    found = fields(lens, sensor)
    return {
        "horizontal": round(found.horizontal, 3),
        "vertical": round(found.vertical, 3),
        "diagonal": round(found.diagonal, 3),
        "is_circle": found.is_circle,
        "pixel_scale": round(pixel_scale(lens, sensor), 3) if has_pixels else None,
    }
