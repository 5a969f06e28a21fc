"""An invented club. The positions are real dark country; all names, readings, notes are made up."""

from __future__ import annotations

from datetime import date
from typing import Any

ORGANISATION = "Candil Night Workshops"
ORGANISER = "organiser@example.org"
INSTRUCTOR = "instructor@example.org"

SEASON: dict[str, Any] = {
    "name": "Season 2027",
    "first_night": date(2027, 1, 1),
    "last_night": date(2027, 12, 31),
}

# Zones are left out: they are found from the positions.
SITES: list[dict[str, Any]] = [
    {
        "name": "Cold Hearth Plateau",
        "latitude": 40.10,
        "longitude": -1.03,
        "elevation_m": 1850.0,
        "sky_brightness": 21.71,
        "sky_measured_on": date(2026, 9, 11),
        "sky_circumstances": "23:40, no Moon, Milky Way overhead",
        "nearest_help": "health post in the valley",
        "minutes_to_help": 35,
        "emergency_number": "112",
        "country": "ES",
        "drive_minutes": 75,
        "night_access": "yes",
        "vehicle": "high",
        "phone_coverage": "patchy",
        "nearest_signal": "the bend below the last barrier",
        "largest_group": 12,
        "months_open": [4, 5, 6, 7, 8, 9, 10, 11],
        "notes": "Windy: bring tent pegs for the tripods.",
    },
    {
        "name": "Juniper Threshing Floor",
        "latitude": 40.42,
        "longitude": -1.62,
        "elevation_m": 1600.0,
        "sky_brightness": 21.62,
        "sky_measured_on": date(2026, 8, 14),
        "sky_circumstances": "00:10, no Moon, a little haze",
        "nearest_help": "village doctor, by day only",
        "minutes_to_help": 40,
        "emergency_number": "112",
        "country": "ES",
        "drive_minutes": 95,
        "night_access": "permit",
        "permit_number": "invented-27-014",
        "permit_lead_days": 21,
        "vehicle": "any",
        "phone_coverage": "none",
        "nearest_signal": "the chapel, ten minutes back",
        "largest_group": 10,
    },
    {
        "name": "Three Shepherds Saddle",
        "latitude": 40.36,
        "longitude": -0.66,
        "elevation_m": 1900.0,
        "sky_brightness": 21.48,
        "sky_measured_on": date(2026, 7, 17),
        "sky_circumstances": "01:20, no Moon",
        "country": "ES",
        "drive_minutes": 110,
        "night_access": "yes",
        "vehicle": "any",
        "phone_coverage": "good",
        "largest_group": 16,
        "months_open": [5, 6, 7, 8, 9, 10],
    },
    {
        "name": "Red Gorge Lookout",
        "latitude": 40.75,
        "longitude": -1.95,
        "elevation_m": 1350.0,
        "country": "ES",
        "position_is_sensitive": True,
        "drive_minutes": 130,
        "night_access": "unknown",
        "vehicle": "foot",
        "phone_coverage": "none",
        "largest_group": 6,
        "notes": "Vultures nest below the edge: ask before going in spring.",
    },
    {
        "name": "Salt Pan of the Owl",
        "latitude": 40.93,
        "longitude": -2.28,
        "elevation_m": 1120.0,
        "sky_brightness": 21.55,
        "sky_measured_on": date(2026, 10, 9),
        "sky_circumstances": "22:05, no Moon",
        "nearest_help": "hospital in the market town",
        "minutes_to_help": 25,
        "emergency_number": "112",
        "country": "ES",
        "drive_minutes": 120,
        "night_access": "yes",
        "vehicle": "any",
        "phone_coverage": "good",
        "largest_group": 20,
    },
    {
        "name": "Birch Lake Cabin",
        "latitude": 69.10,
        "longitude": 18.60,
        "elevation_m": 160.0,
        "country": "NO",
        "night_access": "yes",
        "vehicle": "any",
        "phone_coverage": "patchy",
        "largest_group": 8,
        "months_open": [1, 2, 3, 10, 11, 12],
        "notes": "The winter week, a flight away. "
        "The Sun neither sets in June nor rises in December.",
    },
]

HAZARDS: dict[str, list[tuple[str, str]]] = {
    "Cold Hearth Plateau": [("cold", "wind over the whole top"), ("ice", "shade until May")],
    "Red Gorge Lookout": [("edge", "a drop of forty metres beyond the wall, no fence")],
    "Salt Pan of the Owl": [("ground", "old brine pits, some covered with boards")],
    "Birch Lake Cabin": [("cold", "below −20 °C in a clear week"), ("water", "lake ice")],
}

# Target, what an hour of it is worth, the field in degrees (None: not said). The first
# list is what the season wants.
TARGETS: dict[str, list[tuple[str, float, float | None]]] = {
    "Summer Milky Way": [
        ("milky-way:core", 1.0, 75.0),
        ("milky-way:arch", 0.3, 180.0),
        ("milky-way:scutum", 0.5, 40.0),
        ("milky-way:cygnus", 0.4, 50.0),
        ("deep-sky:IC4604", 0.4, 7.0),
        ("deep-sky:NGC6523", 0.3, 4.0),
        ("deep-sky:NGC7000", 0.2, 8.0),
    ],
    "Long nights, long lenses": [
        ("deep-sky:NGC1976", 1.0, 4.5),
        ("deep-sky:NGC0224", 0.9, 9.0),
        ("deep-sky:Mel022", 0.8, 7.5),
        ("deep-sky:B033", 0.8, 4.0),
        ("deep-sky:NGC2238", 0.6, 4.0),
        ("deep-sky:NGC1499", 0.5, 8.0),
        ("deep-sky:NGC4438", 0.5, 2.7),
        ("shower:GEM", 0.7, None),
    ],
}
