"""A night of a trip, edited: hours on the clocks of its site, tides, two editors."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, Cast
from trips.models import Site, Spot, TideTime, TripNight
from trips.services import links

NIGHT = {
    "date": "2027-03-01", "meeting_at": "19:10", "meeting_point": "Chapel", "ends_at": "02:30",
    "drive_minutes": "40", "decision_at": "15:00", "decision_place": "the club chat",
    "tides-TOTAL_FORMS": "2", "tides-INITIAL_FORMS": "0",
    "tides-0-kind": "high", "tides-0-at": "", "tides-0-height_m": "",
    "tides-1-kind": "low", "tides-1-at": "", "tides-1-height_m": "",
}  # fmt: skip
TIDES = {
    "tides-0-at": "21:40", "tides-0-height_m": "3,6", "tides-1-at": "03:55",
    "tides-1-height_m": "-0.2", "tide_datum": "chart datum", "tide_source": "printed table",
    "leave_spot_by": "23:15",
}  # fmt: skip


@pytest.fixture
def instructor(signed_in: Callable[[str], Client]) -> Client:
    return signed_in("instructor")


def typed(cast: Cast, **changed: str) -> dict[str, str]:
    return NIGHT | {"spot": f"{cast.spot.pk}"} | changed


def edit(cast: Cast) -> str:
    return reverse("trip_night_edit", args=[cast.trip_night.pk])


def opened(client: Client, where: str) -> dict[str, str]:
    form = client.get(where).context["form"]
    version = form.fields["version"].initial
    return {"version": f"{version}", "opened": form.fields["opened"].initial}


def errors(page: Any) -> list[str]:
    return [f"{one.label}: {one.words}" for one in page.context["mistakes"]]


def test_hours_are_typed_on_the_clock_of_the_site_and_kept_in_utc(
    cast: Cast, instructor: Client
) -> None:
    instructor.post(edit(cast), typed(cast, **TIDES, air_c="-3,5"))
    night = TripNight.objects.get(date=FIRST)
    assert night.meeting_at == datetime(2027, 3, 1, 18, 10, tzinfo=UTC)
    assert night.ends_at == datetime(2027, 3, 2, 1, 30, tzinfo=UTC)
    assert night.call_out_at == night.ends_at + timedelta(minutes=40 + 60)
    assert night.decision_at == datetime(2027, 3, 1, 14, tzinfo=UTC)
    assert night.leave_spot_by == datetime(2027, 3, 1, 22, 15, tzinfo=UTC)
    assert night.air_c == -3.5
    waters = [(tide.kind, tide.at, tide.height_m) for tide in night.tides.all()]
    assert waters == [
        ("high", datetime(2027, 3, 1, 20, 40, tzinfo=UTC), 3.6),
        ("low", datetime(2027, 3, 2, 2, 55, tzinfo=UTC), -0.2),
    ]


def test_the_form_shows_what_is_stored_as_it_was_typed(cast: Cast, instructor: Client) -> None:
    instructor.post(edit(cast), typed(cast, **TIDES, next_start_at="09:30"))
    page = instructor.get(edit(cast)).content.decode()
    instructor.post(edit(cast), typed(cast, decision_at="2027-02-28 18:00"))
    page += instructor.get(edit(cast)).content.decode()
    for value in (
        "19:10",
        "02:30",
        "15:00",
        "09:30",
        "2027-02-28 18:00",
        "23:15",
        "21:40",
        "03:55",
        "3.6",
    ):
        assert f'value="{value}"' in page, value


def test_a_night_of_another_zone_is_read_on_its_clocks(cast: Cast, instructor: Client) -> None:
    far = Site.objects.create(organisation=cast.club, name="Fjord", latitude=69.0, longitude=19.0,
                              zone="Europe/Helsinki")  # fmt: skip
    spot = Spot.objects.create(site=far, name="Pier", latitude=69.0, longitude=19.0)
    instructor.post(edit(cast), typed(cast, spot=f"{spot.pk}"))
    night = TripNight.objects.get(date=FIRST)
    assert night.meeting_at == datetime(2027, 3, 1, 17, 10, tzinfo=UTC)
    assert night.decision_at == datetime(2027, 3, 1, 13, tzinfo=UTC)


def test_hours_of_the_night_on_which_clocks_change_are_right(
    cast: Cast, instructor: Client
) -> None:
    """Madrid, Sunday 28 March 2027, 02:00 → 03:00, and 31 October, 03:00 → 02:00 (2000/84/EC)."""
    spring = {"date": "2027-03-27"}
    instructor.post(edit(cast), typed(cast, **spring, ends_at="03:30"))
    assert TripNight.objects.get(date=date(2027, 3, 27)).ends_at.hour == 1
    autumn = {"date": "2027-10-30"}
    where = reverse("trip_night_edit", args=[TripNight.objects.get(date=date(2027, 3, 27)).pk])
    instructor.post(where, typed(cast, **autumn, ends_at="02:30"))
    night = TripNight.objects.get(date=date(2027, 10, 30))
    # The hour comes twice: the first of both, so that nobody is missed an hour too late.
    assert night.ends_at == datetime(2027, 10, 31, 0, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("field", "wrong", "words"),
    [
        ("date", "2027-13-01", "Evening of: That is no date of the calendar"),
        ("date", "2027-03-02", ": The trip has a night on that evening already"),
        ("meeting_at", "", "Meet at: No hour is written here"),
        ("meeting_at", "7pm", "Meet at: “7pm” is no hour of the day"),
        ("ends_at", "18:00", "Ends at: The night ends before people meet"),
        ("ends_at", "12:30", "Ends at: The night ends before people meet"),
        ("decision_at", "yesterday", "Decided at: “yesterday” is no hour of the day"),
        ("decision_at", "2027-03-01", "Decided at: “2027-03-01” is no hour of the day"),
        ("decision_at", "20:00", "Decided at: People would have set out"),
        ("decision_at", "2026-03-01 15:00", "Decided at: That is more than two months before"),
        (
            "decision_at",
            "2027-03-01T16:00+02:00",
            "Decided at: “2027-03-01T16:00+02:00” is no hour",
        ),
        ("next_start_at", "0001-01-01T00:00", "Next drive or start: That is outside the years"),
        ("drive_minutes", "1441", "Drive back (minutes): Too large"),
        ("drive_minutes", "-1", "Drive back (minutes): Too small"),
        ("slept_at_m", "9000", "Height of the beds (m): Too large"),
        ("humidity_percent", "140", "Humidity (%): 140 is out of range"),
        ("air_c", "cold", "Lowest air temperature (°C): “cold” is not a number"),
        ("wind_kmh", "nan", "Wind (km/h): “nan” is not a number"),
        ("spot", "far", "Spot: "),
        (
            "tides-0-at",
            "21:40",
            "Tide 1, height (m): No number is written here; write it like 3.4.",
        ),
        ("tides-0-height_m", "3.1", "Tide 1, when: No hour is written here"),
        ("leave_spot_by", "19:00", "Spot must be left by: People have not met by then"),
        ("meeting_point", "x" * 301, "Meeting point: Write at most 300 characters"),
    ],
)
def test_what_is_typed_wrongly_is_told_where_it_stands(
    cast: Cast, instructor: Client, field: str, wrong: str, words: str
) -> None:
    before = TripNight.objects.filter(pk=cast.trip_night.pk).values().get()
    far = Spot.objects.create(site=cast.far_site, name="Quay", latitude=43.4, longitude=-4.0)
    page = instructor.post(
        edit(cast), typed(cast, **{field: f"{far.pk}" if wrong == "far" else wrong})
    )
    assert page.status_code == 200
    assert [one for one in errors(page) if one.startswith(words)], errors(page)
    assert TripNight.objects.filter(pk=cast.trip_night.pk).values().get() == before
    assert not TideTime.objects.exists()


def test_a_high_water_below_the_low_one_is_refused_and_nothing_of_the_night_saved(
    cast: Cast, instructor: Client
) -> None:
    upside_down = TIDES | {"tides-0-height_m": "-0.2", "tides-1-height_m": "3,6"}
    page = instructor.post(edit(cast), typed(cast, **upside_down))
    assert any(one.startswith("Tides: A high water is not above") for one in errors(page))
    assert not TideTime.objects.exists()
    assert cast.trip_night.tide_datum == ""


def test_an_hour_that_the_clock_skips_is_refused(cast: Cast, instructor: Client) -> None:
    wrong = {"date": "2027-03-27", "ends_at": "02:30"}
    page = instructor.post(edit(cast), typed(cast, **wrong))
    assert errors(page) == [
        "Ends at: The clocks are put forward over that hour: write one before or after it."
    ]


def test_two_editors_of_a_night_each_keep_what_they_changed(cast: Cast, instructor: Client) -> None:
    instructor.post(edit(cast), typed(cast, **TIDES))
    seen = opened(instructor, edit(cast))
    rows = {f"tides-{n}-id": f"{tide.pk}" for n, tide in enumerate(TideTime.objects.all())}
    stored = typed(cast, **(TIDES | rows | {"tides-INITIAL_FORMS": "2", "tides-TOTAL_FORMS": "2"}))
    instructor.post(edit(cast), stored | seen | {"ends_at": "03:10", "tides-0-at": "21:55"})
    page = instructor.post(
        edit(cast), stored | seen | {"meeting_point": "Mill", "tides-1-height_m": "0.4"},
        follow=True,
    )  # fmt: skip
    night = TripNight.objects.get(date=FIRST)
    assert (night.meeting_point, night.ends_at.hour) == ("Mill", 2)
    assert [(f"{one.at:%H:%M}", one.height_m) for one in night.tides.all()] == [
        ("20:55", 3.6), ("02:55", 0.4),
    ]  # fmt: skip
    assert "taken over from there: Ends at, Tides" in page.content.decode()


def test_what_both_changed_is_asked(cast: Cast, instructor: Client) -> None:
    instructor.post(edit(cast), typed(cast))
    seen = opened(instructor, edit(cast))
    instructor.post(edit(cast), typed(cast, ends_at="03:10") | seen)
    page = instructor.post(edit(cast), typed(cast, ends_at="01:00") | seen)
    assert "Ends at: stored now: 03:10" in errors(page)
    assert TripNight.objects.get(date=FIRST).ends_at.hour == 2


def test_a_night_is_added_after_the_last_and_taken_off_again(
    cast: Cast, instructor: Client
) -> None:
    trip = cast.trip
    where = reverse("trip_night_add", args=[trip.pk])
    form = instructor.get(where).context["form"]
    assert (form.initial["date"], form.initial["meeting_point"]) == (
        date(2027, 3, 3), "Car park below the wall",
    )  # fmt: skip
    instructor.post(where, typed(cast, date="2027-03-03"))
    added = trip.nights.get(date=date(2027, 3, 3))
    remove = reverse("trip_night_remove", args=[added.pk])
    assert "Take Wed 3 March 2027 off the trip?" in instructor.get(remove).content.decode()
    page = instructor.post(remove, follow=True)
    assert "Wednesday 3 March 2027 is taken off the trip." in page.content.decode()
    assert trip.nights.count() == 2


MEETING = ("meeting_latitude", "meeting_longitude")


def test_a_pasted_meeting_point_is_kept_and_leads_there(cast: Cast, instructor: Client) -> None:
    instructor.post(edit(cast), typed(cast, meeting_latitude="geo:40.41,-1.12"))
    night = TripNight.objects.get(date=FIRST)
    assert (night.meeting_latitude, night.meeting_longitude) == (40.41, -1.12)
    page = instructor.get(reverse("trip_night_safety", args=[night.pk])).content.decode()
    assert 'href="geo:40.41000,-1.12000"' in page
    assert "40.4100° north, 1.1200° west" in page


@pytest.mark.parametrize(
    ("angles", "said"),
    [
        (("40.41", ""), "Its longitude: Half a position leads nobody there"),
        (("", "-1.12"), "Its latitude: Half a position leads nobody there"),
        (("40.41", "12"), "Its latitude: That position lies 1110 km from the spot"),
        (("99", "1"), "Its latitude: 99 is out of range: it must be from −90 to 90."),
    ],
)
def test_a_position_that_leads_nobody_to_the_others_is_refused(
    cast: Cast, instructor: Client, angles: tuple[str, str], said: str
) -> None:
    asked = dict(zip(MEETING, angles, strict=True))
    assert said in errors(instructor.post(edit(cast), typed(cast, **asked)))[0]


@pytest.mark.parametrize("is_sensitive", [False, True])
def test_a_person_with_a_place_is_led_there_unless_the_site_is_sensitive(
    cast: Cast, is_sensitive: bool
) -> None:
    where = reverse("place", args=[links.token_of(cast.enrolment)])
    cast.trip.nights.update(meeting_latitude=40.41, meeting_longitude=-1.12)
    Site.objects.update(position_is_sensitive=is_sensitive)
    page = Client().get(where).content.decode()
    assert ('href="geo:40.41000,-1.12000"' in page) != is_sensitive
    assert "-1.12" not in Client().get(reverse("join", args=[cast.trip.uid])).content.decode()
