"""The page of alignments: what is asked, what is answered, and what stands in the way."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import time
from html import unescape
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, Cast
from tests.trips.drawing import Elements
from trips.models import Site, Spot

# High in the south around midnight in March, over land of 3°; low in the west by dawn.
STAR = "10h08m22s +11d58m02s"
Ask = Callable[..., str]


@pytest.fixture
def address(cast: Cast) -> str:
    return reverse("alignments", args=[cast.site.pk])


@pytest.fixture
def told(cast: Cast, coordinator: Client, address: str) -> Ask:
    """Ask of the star in the cast's season, seen from its spot."""
    assert cast.spot.pk  # made when it is first asked for
    usual = {"target": STAR, "season": str(cast.season.pk)}

    def ask(**asked: Any) -> str:
        response = coordinator.get(address, usual | asked)
        assert response.status_code == 200
        return unescape(response.content.decode())

    return ask


def row_links(text: str) -> list[str]:
    return [link["href"] for link in Elements(text).of("a") if "#sky" in link["href"]]


def kiln(cast: Cast, **fields: Any) -> str:
    landmark = cast.spot.landmarks.get()
    for name, value in fields.items():
        setattr(landmark, name, value)
    landmark.save()
    return str(landmark.pk)


# The land


def test_what_the_land_hides_is_not_listed_and_is_said(cast: Cast, told: Ask) -> None:
    """The star passes the west-north-west 5° high."""
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[])
    level = told(azimuth="279", hours="any", light="any")
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[[0, 12]])
    behind = told(azimuth="279", hours="any", light="any")
    assert len(row_links(level)) > 20
    assert not row_links(behind)
    assert "always behind the land, which is 12.0° high at west (279°)" in behind
    assert "behind the land" not in level


def test_how_many_the_land_hides_is_said_beside_those_that_it_does_not(
    cast: Cast, told: Ask
) -> None:
    """In the south the Moon climbs from 21° to 78° in a month."""
    moon = {"target": "Moon", "azimuth": "180", "hours": "any", "light": "any"}
    level = told(**moon)
    assert "hides" not in level
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[[0, 45]])
    text = told(**moon)
    hidden = len(row_links(level)) - len(row_links(text))
    assert hidden > 0
    assert f"The land, 45.0° high at south (180°), hides {hidden} more." in text


def test_the_highest_of_land_top_and_level_is_named(cast: Cast, told: Ask) -> None:
    assert "clear of the land, 3.0° high there" in told(azimuth="180")
    assert "above its top at 20.0°" in told(over=kiln(cast, top_degrees=20.0))
    assert "clear of the land, 6.4° high there" in told(over=kiln(cast, top_degrees=1.0))
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[])
    assert "above a level horizon" in told(azimuth="180")


# The answer


def test_the_headline_gives_the_altitudes_that_occur(told: Ask) -> None:
    text = told(azimuth="180", altitude="60", altitude_tolerance="3")
    assert "at south (180°), within 3.0° of 60.0°: 61.4° high," in text
    assert "at south (180°), 61.4° high," in told(azimuth="180")


def test_the_headline_dates_a_moment_after_midnight_by_its_own_day(told: Ask) -> None:
    text = told(azimuth="180", light="any")
    assert "first at 00:36 on Tue 2 March 2027 (evening of the 1st)" in text
    assert "last at 23:38 on Wed 31 March 2027." in text


def test_a_stretch_shorter_than_a_minute_is_not_told_as_two_equal_times(told: Ask) -> None:
    tight = told(azimuth="180", azimuth_tolerance="0.05")
    assert "under a minute" in tight
    assert "under a minute" not in told(azimuth="180")


def test_by_day_counts_only_where_any_light_is_asked_for(told: Ask) -> None:
    usual = told(target="Moon", azimuth="180", hours="any")
    any_light = told(target="Moon", azimuth="180", hours="any", light="any")
    assert ">by day<" not in usual
    assert "Light: any, with the Sun 6° below the horizon or more." in usual
    assert ">by day<" in any_light


# The season


def test_only_the_hours_out_are_shown_and_the_others_are_counted(cast: Cast, told: Ask) -> None:
    cast.season.out_until = time(0)
    cast.season.save()
    out, any_hour = told(azimuth="180"), told(azimuth="180", hours="any")
    left_out = len(row_links(any_hour)) - len(row_links(out))
    assert left_out > 0
    assert f"{left_out} outside your hours" in out
    assert any_hour.count("outside hours") == left_out
    assert f"{len(row_links(out))} of them while you are out." in any_hour


def test_where_all_are_outside_the_hours_it_says_so(cast: Cast, told: Ask) -> None:
    cast.season.out_from, cast.season.out_until = time(14), time(15)
    cast.season.save()
    part = {"first": "2027-03-01", "last": "2027-03-05", "light": "any"}
    text = told(azimuth="180", **part)
    assert "None while you are out from 1 March 2027 to 5 March 2027." in text
    assert "5 outside your hours" in text
    assert not row_links(text)
    assert len(row_links(told(azimuth="180", hours="any", **part))) == 5


def test_without_a_season_there_are_no_hours(told: Ask) -> None:
    text = told(azimuth="180", season="", first="2027-03-01", last="2027-03-05", light="any")
    assert len(row_links(text)) == 5
    assert "outside hours" not in text
    assert "outside your hours" not in text


def test_evenings_that_do_not_suit_are_left_out_and_marked(cast: Cast, told: Ask) -> None:
    cast.season.weekdays = [4, 5]
    cast.season.save()
    assert "on evenings that are not offered" in told(azimuth="180")
    assert "not an evening that suits" in told(azimuth="180", hours="any")


def test_nights_in_a_row_are_told_and_tied(cast: Cast, told: Ask) -> None:
    text = told(azimuth="180", light="any")
    assert "On 3 nights in a row or more once: 31 nights, from Mon 1 March 2027 on." in text
    assert text.count('class="in-row"') == 31
    cast.season.weekdays = [4, 5]
    cast.season.save()
    text = told(azimuth="180", light="any")
    assert "Never on 3 nights in a row." in text
    assert 'class="in-row"' not in text


# From here on


def test_a_row_leads_to_the_sky_of_its_moment(cast: Cast, told: Ask) -> None:
    first = row_links(told(azimuth="180", light="any"))[0]
    night = reverse("night_detail", args=[cast.site.pk, FIRST])
    assert first == f"{night}?at=00%3A36&spot={cast.spot.pk}&season={cast.season.pk}#sky"


def test_a_bare_azimuth_is_seen_from_the_spot_that_is_chosen(cast: Cast, told: Ask) -> None:
    rim = Spot.objects.create(site=cast.site, name="Rim", latitude=40.4, longitude=-1.1, order=9)
    assert "Seen from Wall Corner." in told(azimuth="180")
    text = told(azimuth="180", spot=str(rim.pk))
    assert "Seen from Rim." in text
    assert f"spot={rim.pk}&" in row_links(text)[0]


def test_what_does_not_fit_on_the_page_is_a_link_away(
    told: Ask, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "are shown; the CSV" not in told(azimuth="180", light="any")
    for module in ("alignments", "alignment_rows"):
        monkeypatch.setattr(f"trips.views.{module}.MOST_ROWS", 10)
    text = told(azimuth="180", light="any")
    assert "The first 10 of 31 are shown" in text
    assert "first=2027-03-11" in text
    assert len(row_links(text)) == 10


def test_the_table_to_take_away_has_all_and_says_why_not(cast: Cast, coordinator: Client) -> None:
    cast.season.out_until = time(0)
    cast.season.save()
    address = reverse("alignments_csv", args=[cast.site.pk])
    asked = {"target": STAR, "azimuth": "180", "season": str(cast.season.pk), "light": "any"}
    body = coordinator.get(address, asked).content.decode("utf-8-sig")
    reasons = [line["why_not"] for line in csv.DictReader(io.StringIO(body))]
    assert len(reasons) == 31
    assert set(reasons) == {"", "outside_hours"}


# What cannot be


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"target": "", "azimuth": "180"}, "No target is named; write one like Jupiter."),
        ({"azimuth": ""}, "Choose a landmark, or write an azimuth like 214."),
        ({"azimuth": "south"}, "“south” is not a number; write it like 214."),
        ({"azimuth": "180", "altitude": "-3"}, "−3 is out of range: it must be from 0 to 90."),
        ({"azimuth": "180", "season": "", "last": "2027-03-05"}, "Choose a season, or write"),
        ({"azimuth": "180", "hours": "late"}, "late"),
        ({"azimuth": "180", "spot": "0"}, "0"),
    ],
)
def test_what_is_wrong_is_said_in_a_sentence(told: Ask, asked: dict[str, str], said: str) -> None:
    text = told(**asked)
    (mistake,) = text.split("errorlist")[1:]
    assert said in mistake.split("</ul>")[0]
    assert not row_links(text)


def test_a_landmark_keeps_its_own_spot(cast: Cast, told: Ask) -> None:
    rim = Spot.objects.create(site=cast.site, name="Rim", latitude=40.4, longitude=-1.1, order=9)
    over = kiln(cast)
    said = "Kiln is seen from Wall Corner: choose that spot, or no landmark."
    assert said in told(over=over, spot=str(rim.pk))
    assert said not in told(over=over, spot=str(cast.spot.pk))


def test_an_altitude_behind_the_landmark_is_refused(cast: Cast, told: Ask) -> None:
    over, said = kiln(cast), "Kiln is 7° high: write more, or leave this empty."
    assert said in told(over=over, altitude="4")
    assert said not in told(over=over, altitude="6.5")


def test_a_stranger_finds_no_page_and_a_spot_of_elsewhere_is_no_choice(
    cast: Cast, signed_in: Callable[[str], Client], told: Ask, address: str
) -> None:
    far = Spot.objects.create(site=cast.far_site, name="Quay", latitude=43.4, longitude=-4.0)
    assert signed_in("stranger").get(address).status_code == 404
    text = told(azimuth="180", spot=str(far.pk))
    assert "Quay" not in text
    assert not row_links(text)


def test_a_site_without_spots_is_looked_at_from_its_own_position(
    cast: Cast, coordinator: Client
) -> None:
    site = Site.objects.create(
        organisation=cast.club, name="Bare", latitude=40.4, longitude=-1.1, zone="Europe/Madrid"
    )
    asked = {"target": STAR, "azimuth": "180", "first": "2027-03-01", "last": "2027-03-03"}
    response = coordinator.get(reverse("alignments", args=[site.pk]), asked | {"light": "any"})
    text = unescape(response.content.decode())
    assert "Seen from the site’s own position." in text
    assert len(row_links(text)) == 3
