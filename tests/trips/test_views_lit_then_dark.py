"""Lit, then dark: the page of a spot, its table to take away, and the line on a night's page.

Which nights they are is held to Astropy in tests/against/test_lit_then_dark.py.
"""

from __future__ import annotations

import csv
import html
import io
import re
from collections.abc import Callable
from datetime import date, time
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from tests.trips.one_night import compute, get
from trips.models import Landmark, Season, TargetEntry

Told = Callable[..., str]

FACE = 290.0
SUMMER = date(2027, 7, 1), date(2027, 8, 31)
NIGHT = date(2027, 7, 10)


@pytest.fixture
def lit(cast: Cast) -> Cast:
    """The club's season in July and August 2027, and a kiln that looks west-north-west."""
    season, spot = cast.season, cast.spot
    season.name, (season.first_night, season.last_night) = "Summer 2027", SUMMER
    season.out_until, season.target_list = time(4), cast.target_list
    season.save()
    spot.landmarks.update(face_degrees=FACE, azimuth_degrees=120.0)
    return cast


@pytest.fixture
def told(lit: Cast, coordinator: Client) -> Told:
    def text(**asked: Any) -> str:
        address = reverse("lit_then_dark", args=[lit.spot.pk])
        return words(coordinator.get(address, asked).content.decode())

    return text


def words(page: str) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page)).split())


def table(cast: Cast, client: Client, **asked: Any) -> list[dict[str, str]]:
    answer = client.get(reverse("lit_then_dark_csv", args=[cast.spot.pk]), asked)
    return list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"))))


def test_it_opens_with_the_best_night_in_a_line(told: Told) -> None:
    assert re.search(
        r"Night of \w{3} \d+ (July|August) 2027: the Moon, \d\d % lit, \d\d° high, lights the "
        r"face of Kiln from the (left|right), \d\d° aside, until \d\d:\d\d; dark with Galactic "
        r"core from \d\d:\d\d\.",
        told(),
    )


def test_another_moon_can_be_asked_for(lit: Cast, coordinator: Client, told: Told) -> None:
    def count(**asked: str) -> int:
        return len(table(lit, coordinator, **asked))

    usual = count()
    assert count(aside="", height="", lit="") == count(aside="30°–80°", lit="10-70 %") == usual
    assert count(lit="10–40") < usual <= count(lit="10–99")
    assert "lights the face of Kiln as asked" in told(height="15–30")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("wide", "“wide” cannot be read; write it like 30–80."),
        ("-5–30", "“-5–30” cannot be read; write it like 30–80."),
        ("30", "Write two numbers from 0 to 90, the smaller first, like 30–80."),
        ("80–30", "Write two numbers from 0 to 90, the smaller first, like 30–80."),
        ("30–95", "Write two numbers from 0 to 90, the smaller first, like 30–80."),
    ],
)
def test_what_is_no_range_is_told_with_one_that_would_be(
    told: Told, typed: str, words: str
) -> None:
    assert words in told(aside=typed)


def test_the_longest_dark_comes_first_unless_dates_are_asked_for(told: Told) -> None:
    def hours(text: str) -> list[float]:
        return [float(found) for found in re.findall(r"(\d\.\d) h", text.partition("Night by")[2])]

    assert hours(told()) == sorted(hours(told()), reverse=True)
    assert len(hours(told())) > 3
    dated = re.findall(r"\d+ (?:July|August) 2027", told(order="date").partition("Night by")[2])
    assert [(one.split()[1] == "August", int(one.split()[0])) for one in dated] == sorted(
        (one.split()[1] == "August", int(one.split()[0])) for one in dated
    )


def test_hours_of_the_season_cut_it(lit: Cast, told: Told, coordinator: Client) -> None:
    whole = table(lit, coordinator)
    Season.objects.filter(pk=lit.season.pk).update(out_until=time(23, 30))
    assert len(table(lit, coordinator)) < len(whole)


def test_another_target_has_other_hours(lit: Cast, told: Told, coordinator: Client) -> None:
    core, nebula = lit.target_list.entries.order_by("order")
    first, second = (table(lit, coordinator, target=one.pk) for one in (core, nebula))
    assert first == table(lit, coordinator)
    assert first != second
    assert "dark with North America Nebula" in told(target=nebula.pk)


def test_dark_alone_can_be_asked_for(told: Told) -> None:
    assert "moonless dark from" in told(target="dark")


def test_evenings_that_are_not_offered_are_marked_and_last(lit: Cast, told: Told) -> None:
    everything = told()
    Season.objects.filter(pk=lit.season.pk).update(weekdays=[5])
    text = told()
    assert "not an evening that suits" not in everything
    assert "not an evening that suits" in text
    assert re.search(r"Night of Sat", text) or "Night of" not in text


def test_a_season_without_a_list_counts_the_dark_and_says_so(lit: Cast, told: Told) -> None:
    Season.objects.filter(pk=lit.season.pk).update(target_list=None)
    text = told()
    assert "Summer 2027 wants no list of targets: moonless dark alone counts." in text
    assert "moonless dark from" in text


def test_a_season_with_none_says_what_there_is(lit: Cast, told: Told) -> None:
    Season.objects.filter(pk=lit.season.pk).update(out_until=time(23, 30))
    assert re.search(
        r"No night of Summer 2027 has both while you are out: the Moon lights the face of Kiln "
        r"from the side in \d+, and \d+ have an hour or more of dark with Galactic core\.",
        told(),
    )


def test_a_face_that_looks_away_is_told(lit: Cast, told: Told) -> None:
    assert "looks away" not in told()
    lit.spot.landmarks.update(azimuth_degrees=300.0)
    assert "The face of Kiln looks away from this spot" in told()


def test_without_a_face_it_says_what_to_type_and_where(cast: Cast, coordinator: Client) -> None:
    answer = coordinator.get(reverse("lit_then_dark", args=[cast.spot.pk]))
    text = answer.content.decode()
    assert "No landmark of this spot has a face yet: write toward which azimuth" in text
    assert f"{reverse('spot_edit', args=[cast.spot.pk])}#landmarks" in text


def test_without_a_season_it_asks_for_one(lit: Cast, told: Told) -> None:
    Season.objects.filter(pk=lit.season.pk).update(archived_at="2027-01-01T00:00Z")
    assert "No season of this site yet" in told()


@pytest.mark.parametrize("name", ["landmark", "season", "target", "order"])
@pytest.mark.parametrize("typed", ["999999", "<script>", "−1"])
def test_what_is_not_offered_is_told_in_a_sentence(told: Told, name: str, typed: str) -> None:
    text = told(**{name: typed})
    assert text.count("is not among the choices; choose one of the list.") == 1
    assert "Night by night" not in text


def test_a_face_of_400_degrees_is_told_in_a_sentence(lit: Cast, told: Told) -> None:
    lit.spot.landmarks.update(face_degrees=400.0)
    assert "400° is none" in told()


def test_the_table_has_every_night_with_its_figures(lit: Cast, coordinator: Client) -> None:
    rows = table(lit, coordinator)
    assert {row["first"] for row in rows} == {"lit"}
    for row in rows:
        assert 10 <= float(row["moon_altitude"]) <= 45
        assert 0.1 <= float(row["moon_illuminated"]) <= 0.7
        assert 30 <= float(row["angle"]) <= 80
        assert row["lit_from"] < row["lit_to"] <= row["dark_from"] < row["dark_to"]


def test_what_cannot_be_read_leads_from_the_table_to_the_page(
    lit: Cast, coordinator: Client
) -> None:
    answer = coordinator.get(reverse("lit_then_dark_csv", args=[lit.spot.pk]), {"season": "x"})
    assert answer["Location"] == f"{reverse('lit_then_dark', args=[lit.spot.pk])}?season=x"


def test_the_spot_leads_to_it_and_tells_the_face(lit: Cast, coordinator: Client) -> None:
    text = coordinator.get(reverse("spot_detail", args=[lit.spot.pk])).content.decode()
    assert reverse("lit_then_dark", args=[lit.spot.pk]) in text
    assert "its face looks west-north-west, 290°" in text


def on_night(cast: Cast, client: Client, night: date, **asked: Any) -> str:
    compute(cast.site, night)
    return words(get(client, cast.site, night, **asked).content.decode())


def test_the_page_of_such_a_night_has_the_line(lit: Cast, coordinator: Client) -> None:
    text = on_night(lit, coordinator, NIGHT)
    rows = {row["night"]: row for row in table(lit, coordinator)}
    until = rows[NIGHT.isoformat()]["lit_to"]
    assert "lights the face of Kiln from the" in text
    assert f"aside, until {until[11:13]}" in text
    assert "dark with Galactic core from" in text


def test_the_page_of_another_night_has_not(lit: Cast, coordinator: Client) -> None:
    assert "the face of Kiln" not in on_night(lit, coordinator, date(2027, 7, 20))


def test_nor_has_that_of_a_spot_without_a_face(lit: Cast, coordinator: Client) -> None:
    lit.spot.landmarks.update(face_degrees=None)
    assert "the face of Kiln" not in on_night(lit, coordinator, NIGHT)


def test_the_target_that_counts_most_is_named(lit: Cast, coordinator: Client) -> None:
    TargetEntry.objects.filter(name="Galactic core").update(weight=0.1)
    assert "dark with North America Nebula from" in on_night(lit, coordinator, NIGHT)


def test_another_face_of_the_spot_may_be_the_one(lit: Cast, coordinator: Client) -> None:
    lit.spot.landmarks.update(face_degrees=20.0)
    Landmark.objects.create(
        spot=lit.spot, name="Barn", azimuth_degrees=100.0, top_degrees=3.0, face_degrees=FACE
    )
    assert "lights the face of Barn" in on_night(lit, coordinator, NIGHT)
