"""The sky's light toward one direction at one moment, as a command prints it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sky.light.brightness import NATURAL_MAG, LocalSky, sky_at
from sky.light.units import naked_eye_limit
from sky.place import Place
from trips.almanac.local_time import as_meant, local

__all__ = ["NATURAL_MAG", "LocalSky", "brightness_records"]

Record = dict[str, Any]


def brightness_records(
    sky: LocalSky, place: Place, at: datetime, altitude: float, azimuth: float
) -> Sequence[Record]:
    """Give one record, light in nanolamberts; `at` as typed. Errors: those of `sky_at`."""
    at = as_meant(at, place.zone)
    light = sky_at(sky, place, at, altitude, azimuth)
    mag = float(light.magnitude[0])
    return [
        {
            "at": local(at, place.zone).isoformat(),
            "altitude": altitude,
            "azimuth": azimuth % 360,
            "moonlight_nl": round(float(light.moonlight[0]), 3),
            "sky_mag": round(mag, 3),
            "natural_nl": round(float(light.natural[0]), 3),
            "glow_nl": round(float(light.glow[0]), 3),
            "twilight_nl": round(float(light.twilight[0]), 3),
            "loss_mag": round(float(light.loss_mag[0]), 3),
            "naked_eye_limit": round(float(naked_eye_limit(mag)), 2),
        }
    ]
