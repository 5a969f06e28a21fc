"""What happens in the sky, on the page of a night."""

from __future__ import annotations

from datetime import date

import pytest
from django.test import Client

from tests.conftest import Cast
from tests.trips.one_night import Told, compute, teller
from trips.models import Site

TOTAL_SUN, TOTAL_MOON = date(2027, 8, 2), date(2028, 12, 31)
PERSEIDS, NOTHING = date(2027, 8, 12), date(2027, 7, 20)


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    for night in (TOTAL_SUN, TOTAL_MOON, PERSEIDS, NOTHING):
        compute(cast.site, night)
    return teller(coordinator, cast)


def test_a_shower_has_its_heading_and_its_sentences(told: Told) -> None:
    text = told(PERSEIDS)
    assert "<h3>Peak of the Perseids 10:11 on 13 August</h3>" in text
    assert "meteors an hour then under a perfect sky" in text


def test_an_eclipse_has_a_table_of_its_moments(told: Told) -> None:
    text = told(TOTAL_MOON)
    assert "<h3>Total eclipse of the Moon 16:08–19:37</h3>" in text
    assert '>18:28</time></td><th scope="row">Totality ends</th>' in text


def test_an_eclipse_of_the_sun_has_the_caution_of_the_eyes_and_another_night_has_not(
    told: Told,
) -> None:
    caution = "Never look at the Sun without a certified solar filter"
    assert caution in told(TOTAL_SUN)
    assert caution not in told(TOTAL_MOON)
    assert caution not in told(PERSEIDS)


def test_a_phase_stays_beside_the_moon(told: Told) -> None:
    assert "<strong>Also this night:</strong> New Moon 12:05." in told(TOTAL_SUN)


def test_a_night_without_any_has_no_section_for_them(told: Told) -> None:
    assert 'aria-labelledby="events"' in told(PERSEIDS)
    assert 'aria-labelledby="events"' not in told(NOTHING)


def test_each_site_is_told_what_it_sees_itself(cast: Cast, told: Told) -> None:
    south = Site.objects.create(
        organisation=cast.club,
        name="Karoo",
        latitude=-32.4,
        longitude=20.8,
        zone="Africa/Johannesburg",
    )
    compute(south, TOTAL_SUN)
    assert "eclipse of the Sun" not in told(TOTAL_SUN, south)
    assert "eclipse of the Sun" in told(TOTAL_SUN)
