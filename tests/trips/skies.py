"""Skies for the tests of their pictures: made by hand, not computed."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import numpy as np

from sky.dome import MilkyWay, NamedStanding, Standing, StarField, WantedStanding, WholeSky
from sky.skyline import LEVEL
from trips.charts.dome import Dome, dome

DOWN = Standing(-40.0, 180.0)


def made_sky(**changed: Any) -> WholeSky:
    """Give a dark sky with three stars, a band from east to west, and Jupiter in the south."""
    sky = WholeSky(
        instant=datetime(2027, 7, 3, 23, 0, tzinfo=UTC),
        sun=Standing(-30.0, 0.0),
        moon=DOWN,
        moon_lit=0.3,
        moon_waxing=True,
        planets=(NamedStanding("Jupiter", Standing(35.0, 180.0)),),
        stars=made_stars(
            ("Vega", 0.0, 80.0, 90.0), ("Polaris", 2.0, 40.0, 0.0), ("", 4.4, 50, 200)
        ),
        milky_way=made_band(),
        wanted=(),
        skyline=LEVEL,
    )
    return replace(sky, **changed)


def made_stars(*stars: tuple[str, float, float, float]) -> StarField:
    """Give stars of name, magnitude, altitude and azimuth, in order of brightness."""
    names, *figures = zip(*stars, strict=True)
    magnitudes, altitudes, azimuths = (np.array(each, dtype=float) for each in figures)
    return StarField(altitudes, azimuths, magnitudes, tuple(names))


def made_band() -> MilkyWay:
    """Give a band that rises in the east, passes 60° high in the south and sets in the west."""
    return MilkyWay(
        faint=(circle(48.0), circle(72.0)),
        bright=(circle(54.0), circle(66.0)),
        lane=(circle(60.0), circle(60.0)),
        equator=circle(60.0),
        top=Standing(60.0, 180.0),
        feet_azimuths=(90.0, 270.0),
        core=DOWN,
    )


def circle(highest: float) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Give a closed great circle whose top is in the south: altitude and azimuth (step, 2)."""
    along = np.radians(np.arange(0.0, 361.0, 10.0))
    tilt = np.radians(highest)
    east, south, up = np.cos(along), np.sin(along) * np.cos(tilt), np.sin(along) * np.sin(tilt)
    azimuth = np.degrees(np.arctan2(east, -south)) % 360
    return np.stack((np.degrees(np.arcsin(up)), azimuth), axis=-1)


def made_wanted(name: str, altitude: float, azimuth: float, **changed: Any) -> WantedStanding:
    path = np.array([(altitude - 5, azimuth - 10), (altitude, azimuth)])
    return WantedStanding(name, (Standing(altitude, azimuth),), **{"path": path} | changed)


def drawn(sky: WholeSky) -> Dome:
    return dome(sky, clock="01:00", rim="level horizon", title="The sky", description="It is up.")
