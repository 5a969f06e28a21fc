"""Where the club's tripods stand, by site: invented, as are the skylines and what stands on them.

A landmark has its position, and direction and distance are found from it; or its azimuth.
"""

from __future__ import annotations

from typing import Any

SPOTS: dict[str, list[dict[str, Any]]] = {
    "Cold Hearth Plateau": [
        {
            "name": "South of the sheepfold",
            "latitude": 40.0985,
            "longitude": -1.0312,
            "elevation_m": 1846.0,
            "tripods": 12,
            "walk_minutes": 8,
            "skyline": [
                [0, 3.5], [15, 4.5], [30, 4], [50, 2], [70, 1], [90, 0.5], [110, 0], [130, -0.5],
                [150, 0.5], [165, 1.5], [180, 1], [195, 2], [210, 2.5], [225, 1.5], [240, 1],
                [255, 3], [270, 6], [285, 8.5], [300, 9], [315, 7], [330, 4.5], [345, 3],
            ],
            "skyline_how": "clinometer and compass, 12 Sep 2026, by day",
            "notes": "Stand in two rows: the front one sits. The wall keeps the wind off until it "
            "turns north.",
            "landmarks": [
                {
                    "name": "The lone chimney",
                    "latitude": 40.09573,
                    "longitude": -1.03164,
                    "top_degrees": 5.5,
                    "width_degrees": 1.2,
                    "face_degrees": 325.0,
                    "is_seen_at_night": True,
                },
                {
                    "name": "Bent pine",
                    "azimuth_degrees": 232.0,
                    "top_degrees": 6.0,
                    "width_degrees": 4.0,
                    "distance_m": 90.0,
                    "is_seen_at_night": True,
                },
                {
                    "name": "Cairn",
                    "azimuth_degrees": 148.5,
                    "top_degrees": 1.8,
                    "distance_m": 400.0,
                },
            ],
            "hazards": [("ground", "wire of the old fence in the grass, knee-high")],
        },
        {
            "name": "Windward rim",
            "latitude": 40.1016,
            "longitude": -1.0349,
            "elevation_m": 1858.0,
            "tripods": 5,
            "walk_minutes": 22,
            "hazards": [("edge", "the rim breaks off to the north: nobody goes past the cairns")],
        },
    ],
    "Juniper Threshing Floor": [
        {
            "name": "The threshing floor",
            "latitude": 40.4208,
            "longitude": -1.6187,
            "elevation_m": 1602.0,
            "tripods": 10,
            "walk_minutes": 3,
            "skyline": [
                [0, 6], [20, 8], [40, 11], [60, 12.5], [80, 9], [100, 5], [120, 3], [140, 2],
                [160, 1.5], [180, 1], [200, 1.5], [220, 2], [240, 4], [260, 3], [280, 5], [300, 7],
                [320, 6], [340, 5],
            ],
            "skyline_how": "clinometer, 15 Aug 2026; the trees of the north-east are in leaf",
            "landmarks": [
                {
                    "name": "Chapel tower",
                    "latitude": 40.41533,
                    "longitude": -1.62104,
                    "top_degrees": 3.2,
                    "width_degrees": 0.5,
                    "is_seen_at_night": True,
                },
                {
                    "name": "Oldest juniper",
                    "azimuth_degrees": 128.0,
                    "top_degrees": 14.0,
                    "width_degrees": 9.0,
                    "distance_m": 35.0,
                },
            ],
            "hazards": [("wildlife", "mastiffs guard the flock: wait until the shepherd calls")],
        },
    ],
}  # fmt: skip
