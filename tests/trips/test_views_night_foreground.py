"""When the land in front has light, on the page of a night."""

from __future__ import annotations

import re
from datetime import date

import pytest
from django.test import Client

from tests.conftest import Cast
from tests.trips.one_night import Told, compute, teller
from trips.almanac.local_time import clock
from trips.models import Night, Spot

NEW_MOON, FIRST_QUARTER = date(2027, 3, 8), date(2027, 3, 14)


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    for night in (NEW_MOON, FIRST_QUARTER):
        compute(cast.site, night)
    return teller(coordinator, cast)


def test_without_a_moon_the_land_has_twilight_alone(cast: Cast, told: Told) -> None:
    """Between civil and nautical dusk, and between the dawns: as the night is stored."""
    row, zone, text = Night.objects.get(date=NEW_MOON), cast.site.zone, told(NEW_MOON)
    moments = (row.civil_dusk, row.nautical_dusk, row.nautical_dawn, row.civil_dawn)
    dusk, later, dawn, day = (clock(one, zone) for one in moments if one)
    assert f"A frame of the land in front by twilight: {dusk}–{later}, {dawn}–{day}." in text
    assert "by a Moon that leaves stars" not in text


def test_a_half_moon_lights_the_land_while_it_is_neither_high_nor_low(told: Told) -> None:
    """PyEphem has it 42.8° high at 22:00 and 11.0° at 01:00, 10° to 11° an hour."""
    told_of = "A frame of the land by a Moon that leaves stars: 21:4[5-9]–01:0[3-8]\\."
    assert re.search(told_of, told(FIRST_QUARTER))


def test_a_moon_behind_the_spots_land_lights_none(cast: Cast, told: Told) -> None:
    Spot.objects.create(
        site=cast.site,
        name="Gorge",
        latitude=cast.site.latitude,
        longitude=cast.site.longitude,
        skyline=[[azimuth, 60] for azimuth in range(0, 360, 30)],
    )
    text = told(FIRST_QUARTER)
    assert "by twilight" in text
    assert "by a Moon that leaves stars" not in text
