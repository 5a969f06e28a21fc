"""The club's camera and its log of darkness: invented, as are the people who stood there.

Evenings and clocks are those of the site; a reading is an azimuth (None: the zenith) and what a
meter read, or the level of a frame.
"""

from __future__ import annotations

from datetime import date, time
from typing import Any

CAMERA: dict[str, Any] = {
    "name": "Old Candil",
    "sensor_width_mm": 36.0,
    "sensor_height_mm": 24.0,
    "pixels_wide": 6000,
    "pixels_high": 4000,
    "top_iso": 12_800,
}
CALIBRATION: dict[str, Any] = {
    "exposure": {"f_number": 2.8, "seconds": 20.0, "iso": 3200.0},
    "level": 0.019,
    "known_mag": 21.6,
    "on": date(2026, 8, 12),
    "how": "24 mm at f/2.8, beside the club’s meter",
}

OUTINGS: dict[str, list[dict[str, Any]]] = {
    "Cold Hearth Plateau": [
        {
            "evening": date(2026, 1, 17),
            "clock": time(21, 30),
            "snow": True,
            "note": "snow to the knee, thin haze",
            "meter": [(None, 21.28)],
        },
        {
            "evening": date(2026, 7, 31),
            "clock": time(0, 40),
            "moon_up": True,
            "note": "to know what we lose by it",
            "meter": [(None, 19.12)],
        },
        {
            "evening": date(2026, 10, 10),
            "clock": time(22, 20),
            "note": "very clear, wind from the north",
            "meter": [
                (None, 21.68), (0, 21.10), (45, 21.30), (90, 21.18), (135, 20.86), (180, 21.14),
                (225, 21.34), (270, 21.38), (315, 21.22),
            ],
        },
    ],
    "Salt Pan of the Owl": [
        {
            "evening": date(2026, 8, 14),
            "clock": time(23, 50),
            "note": "24 mm at f/2.8",
            "exposure": {"f_number": 2.8, "seconds": 20.0, "iso": 3200.0},
            "frames": [(None, 0.0203), (100, 0.0395), (270, 0.0288)],
        },
    ],
}  # fmt: skip
