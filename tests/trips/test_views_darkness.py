"""The darkness log on its pages: readings typed, echoed, saved, shown, removed, taken as a table.

At Broom Hill on the evening of 18 March 2026 the Moon is new; on 3 March it is full.
"""

from __future__ import annotations

import csv
import io
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Camera, DarknessReading, Membership, Site, User

METER = {"evening": "2026-03-18", "clock": "23:40", "how": "meter", "note": "haze in the west"}
FRAME = METER | {"how": "frame", "f_number": "2.8", "seconds": "20", "iso": "3200"}


def text(response: Any) -> str:
    words: str = response.content.decode()
    return words


def typed(*rows: dict[str, str], **shared: str) -> dict[str, str]:
    data = {"readings-INITIAL_FORMS": "0", "readings-TOTAL_FORMS": f"{len(rows)}"}
    for number, row in enumerate(rows):
        data |= {f"readings-{number}-{name}": value for name, value in row.items()}
    return data | shared


def send(client: Client, site: Site, data: dict[str, str]) -> Any:
    return client.post(reverse("darkness_add", args=[site.pk]), data, follow=True)


def save(client: Client, site: Site, data: dict[str, str]) -> str:
    """Send the form, look at the echo, and send what the echo's page holds."""
    echoed = send(client, site, data)
    assert echoed.context["echo"], echoed.context["mistakes"]
    return text(send(client, site, data | {"seen": echoed.context["form"]["seen"].value()}))


ZENITH = {"direction": "zenith", "magnitude": "21,43", "milky_way_overhead": "on"}
EAST = {"direction": "90°", "magnitude": "20.4"}


def test_readings_are_echoed_before_they_are_saved(cast: Cast, coordinator: Client) -> None:
    page = text(send(coordinator, cast.site, typed(ZENITH, EAST, **METER)))
    assert "Not saved yet" in page
    assert "Wednesday 18 March 2026, 23:40 in Europe/Madrid (UTC+01:00)" in page
    assert "<dt>Zenith</dt><dd>21.43 mag/arcsec²</dd>" in page
    assert "<dt>East, 90°</dt><dd>20.40 mag/arcsec²</dd>" in page
    assert not DarknessReading.objects.exists()


def test_readings_that_were_seen_are_saved_and_the_site_follows(cast: Cast, signed_in: Any) -> None:
    page = save(signed_in("instructor"), cast.site, typed(ZENITH, EAST, **METER))
    assert "2 readings are in the log." in page
    assert "Broom Hill now counts as 21.43 mag/arcsec² at the zenith." in page
    zenith, east = DarknessReading.objects.order_by("azimuth_degrees")
    assert zenith.at == datetime(2026, 3, 18, 22, 40, tzinfo=UTC)
    assert (zenith.by, zenith.how, zenith.milky_way_overhead) == (cast.instructor, "meter", True)
    assert (east.azimuth_degrees, east.note) == (90.0, "haze in the west")
    cast.site.refresh_from_db()
    assert cast.site.sky_by_azimuth == [[90.0, 20.4]]


def test_what_was_changed_after_the_echo_is_echoed_again(cast: Cast, coordinator: Client) -> None:
    echoed = send(coordinator, cast.site, typed(ZENITH, **METER))
    seen = echoed.context["form"]["seen"].value()
    brighter = ZENITH | {"magnitude": "20.43"}
    page = text(send(coordinator, cast.site, typed(brighter, seen=seen, **METER)))
    assert "Not saved yet" in page
    assert not DarknessReading.objects.exists()


def test_a_time_after_midnight_is_of_the_evening_before(cast: Cast, coordinator: Client) -> None:
    page = text(send(coordinator, cast.site, typed(ZENITH, **METER | {"clock": "01:30"})))
    assert "Thursday 19 March 2026, 01:30" in page


def test_a_frame_is_read_with_the_cameras_calibration(cast: Cast, coordinator: Client) -> None:
    camera = cast.camera
    row = {"direction": "zenith", "level": "0.03"}
    page = save(coordinator, cast.site, typed(row, **FRAME, camera=f"{camera.pk}"))
    one = DarknessReading.objects.get()
    # As LM1 of the published values, to the hundredth.
    assert (one.magnitude, one.how, one.camera) == (20.99, "frame", camera)
    assert "test frame, Grey Heron" in page


@pytest.mark.parametrize(
    ("row", "shared", "words"),
    [
        ({"level": "1"}, {}, "burnt out, expose less"),
        ({"level": "0"}, {}, "is black"),
        ({"level": "", "milky_way_overhead": "on"}, {}, "No level is written here"),
        ({"level": "0.9999"}, {"iso": "1", "seconds": "1"}, "outside 10 to 23"),
        ({}, {"f_number": "0"}, "No lens has f/0"),
        ({}, {"seconds": "-1"}, "An exposure of −1 s cannot be"),
        ({}, {"iso": "0"}, "ISO 0 cannot be"),
        ({}, {"camera": ""}, "Nothing is chosen"),
        ({}, {"camera": "999"}, "not among the choices"),
    ],
)
def test_a_frame_that_cannot_be_is_refused(
    cast: Cast, coordinator: Client, row: dict[str, str], shared: dict[str, str], words: str
) -> None:
    whole = {"direction": "zenith", "level": "0.03"} | row
    data = FRAME | {"camera": f"{cast.camera.pk}"} | shared
    page = text(send(coordinator, cast.site, typed(whole, **data)))
    assert words in page
    assert "Not saved yet" not in page


def test_a_camera_without_calibration_is_not_offered(cast: Cast, coordinator: Client) -> None:
    Camera.objects.filter(pk=cast.camera.pk).update(zero_point=None)
    page = text(coordinator.get(reverse("darkness_add", args=[cast.site.pk]) + "?how=frame"))
    assert "No camera is calibrated yet" in page


@pytest.mark.parametrize(
    ("row", "shared", "words"),
    [
        ({"magnitude": "9"}, {}, "out of range"),
        ({"magnitude": "dark"}, {}, "is not a number"),
        ({"magnitude": ""}, {}, "No brightness is written here"),
        ({"direction": ""}, {}, "No direction is written here"),
        ({"direction": "up"}, {}, "is no direction"),
        ({"direction": "361"}, {}, "is no direction"),
        ({}, {"evening": "2026-02-30"}, "no date of the calendar"),
        ({}, {"evening": "2999-01-01"}, "still to come"),
        ({}, {"evening": "9999-12-31", "clock": "01:00"}, "outside the years"),
        ({}, {"evening": "1960-01-01"}, "1960"),
        ({}, {"clock": "half past"}, "no hour of the day"),
        ({}, {"clock": ""}, "No time is written here"),
        ({}, {"clock": "14:00"}, "the Sun was up"),
        ({}, {"evening": "2026-03-28", "clock": "02:30"}, "put forward over that hour"),
        ({}, {"spot": "999"}, "not among the choices"),
        ({}, {"note": "x" * 201}, "at most 200 characters"),
    ],
)
def test_what_is_no_reading_is_refused(
    cast: Cast, coordinator: Client, row: dict[str, str], shared: dict[str, str], words: str
) -> None:
    page = text(send(coordinator, cast.site, typed(ZENITH | row, **METER | shared)))
    assert words in page
    assert "Not saved: " in page
    assert not DarknessReading.objects.exists()


def test_a_direction_stands_once(cast: Cast, coordinator: Client) -> None:
    page = text(send(coordinator, cast.site, typed(EAST, EAST, **METER)))
    assert "Reading 2, direction</a>: This direction stands above already" in page


def test_a_direction_may_be_written_as_the_log_names_it(cast: Cast, coordinator: Client) -> None:
    save(coordinator, cast.site, typed(EAST | {"direction": "South-east"}, **METER))
    assert DarknessReading.objects.get().azimuth_degrees == 135.0


def test_a_zenith_that_was_rubbed_out_is_no_reading(cast: Cast, coordinator: Client) -> None:
    save(coordinator, cast.site, typed({"direction": "", "magnitude": ""}, EAST, **METER))
    assert DarknessReading.objects.get().azimuth_degrees == 90.0


def test_without_a_row_nothing_is_saved(cast: Cast, coordinator: Client) -> None:
    page = text(send(coordinator, cast.site, typed({"direction": "zenith"}, **METER)))
    assert "fill in a row at least" in page


def test_more_than_nine_directions_are_refused(cast: Cast, coordinator: Client) -> None:
    rows = [{"direction": f"{10 * n}", "magnitude": "21"} for n in range(10)]
    page = text(send(coordinator, cast.site, typed(*rows, **METER)))
    assert "There may be 9 rows" in page


def test_another_row_keeps_what_was_typed_and_judges_nothing(
    cast: Cast, coordinator: Client
) -> None:
    data = typed({"direction": "up", "magnitude": "9"}, **METER) | {"add_reading": "1"}
    page = text(send(coordinator, cast.site, data))
    assert 'value="up"' in page
    assert "readings-1-direction" in page
    assert "Not saved" not in page


def test_what_disagrees_with_the_sky_is_said_with_the_echo(cast: Cast, coordinator: Client) -> None:
    page = text(send(coordinator, cast.site, typed(ZENITH, **METER | {"evening": "2026-03-03"})))
    assert "Not saved yet" in page
    assert "The Moon stood" in page


# The site's page


def test_the_log_shows_the_newest_first_and_what_counts(cast: Cast, coordinator: Client) -> None:
    save(coordinator, cast.site, typed(ZENITH, **METER))
    in_snow = METER | {"evening": "2026-03-19", "snow": "on"}
    save(coordinator, cast.site, typed(EAST | {"direction": "zenith"}, **in_snow))
    page = text(coordinator.get(reverse("site_detail", args=[cast.site.pk])))
    log = page[page.index('id="darkness"') :]
    assert log.index('rowspan="1">19 March 2026') < log.index('rowspan="1">18 March 2026')
    assert "no Moon, snow" in log
    assert "What counts: 21.43 at the zenith, evening of 18 March 2026." in log
    assert log.count('<span class="counts">counts</span>') == 1


def test_moonlight_that_nobody_wrote_down_is_seen_and_does_not_count(
    cast: Cast, coordinator: Client
) -> None:
    save(coordinator, cast.site, typed(ZENITH, **METER | {"evening": "2026-03-03"}))
    page = text(coordinator.get(reverse("site_detail", args=[cast.site.pk])))
    assert "Moon up" in page
    assert '<span class="counts">' not in page


def test_with_directions_alone_the_zenith_is_said_to_be_taken_from_them(
    cast: Cast, coordinator: Client
) -> None:
    save(coordinator, cast.site, typed(EAST, **METER))
    page = text(coordinator.get(reverse("site_detail", args=[cast.site.pk])))
    # By hand: 20.4 is 235.8 nL, less the 88.6 of a natural sky 30° up, with the 54.0 overhead.
    assert "Nobody has measured overhead: it is taken to be about 20.6 there" in page
    assert "about 20.6 mag/arcsec² at the zenith, estimated" in page
    assert "from what was measured around, not overhead" in page


def test_of_a_long_log_the_oldest_is_in_the_table_alone(cast: Cast, coordinator: Client) -> None:
    first = datetime(2026, 3, 18, 21, tzinfo=UTC)
    DarknessReading.objects.bulk_create(
        DarknessReading(site=cast.site, at=first + timedelta(minutes=n), magnitude=21.0)
        for n in range(46)
    )
    page = text(coordinator.get(reverse("site_detail", args=[cast.site.pk])))
    assert "40 older evenings" in page
    assert "2 still older are in the table (CSV) alone." in page
    assert len(table(coordinator, cast.site)) == 46


def test_a_site_without_readings_says_so(cast: Cast, coordinator: Client) -> None:
    page = text(coordinator.get(reverse("site_detail", args=[cast.site.pk])))
    assert "Nobody has read a meter here yet, or a test frame." in page


def test_what_is_typed_in_the_form_is_told_from_the_log(cast: Cast, coordinator: Client) -> None:
    save(coordinator, cast.site, typed(ZENITH, **METER))
    Site.objects.update(sky_brightness=21.9, sky_measured_on="2026-05-01")
    page = text(coordinator.get(reverse("site_detail", args=[cast.site.pk])))
    assert "Its form says 21.90 at the zenith." in page


# Removed


def test_whoever_made_a_reading_removes_it(cast: Cast, signed_in: Any) -> None:
    client = signed_in("instructor")
    save(client, cast.site, typed(ZENITH, **METER))
    one = DarknessReading.objects.get()
    page = text(client.post(reverse("reading_remove", args=[one.pk]), follow=True))
    assert "The reading is out of the log." in page
    cast.site.refresh_from_db()
    assert cast.site.sky_brightness is None


def test_a_member_does_not_remove_what_another_made(cast: Cast, signed_in: Any) -> None:
    other = User.objects.create_user("other@meadow.example")
    Membership.objects.create(user=other, organisation=cast.club, role="instructor")
    DarknessReading.objects.create(site=cast.site, at=datetime(2026, 3, 18, 22, tzinfo=UTC),
                                   magnitude=21.0, by=other)  # fmt: skip
    client = signed_in("instructor")
    one = DarknessReading.objects.get()
    assert client.post(reverse("reading_remove", args=[one.pk])).status_code == 403
    page = text(client.get(reverse("site_detail", args=[cast.site.pk])))
    assert reverse("reading_remove", args=[one.pk]) not in page


# As a table


def table(client: Client, site: Site) -> list[dict[str, str]]:
    answer = text(client.get(reverse("darkness_csv", args=[site.pk])))
    return list(csv.DictReader(io.StringIO(answer.removeprefix("\ufeff"))))


def test_the_log_is_a_table_with_local_times(cast: Cast, coordinator: Client) -> None:
    save(coordinator, cast.site, typed(ZENITH, EAST, **METER | {"note": "=1+1"}))
    first, second = table(coordinator, cast.site)
    assert first["time"] == "2026-03-18T23:40+01:00"
    assert {first["azimuth"], second["azimuth"]} == {"", "90.0"}
    assert (first["moon_up"], first["how"]) == ("no", "meter")
    assert first["note"] == "'=1+1"


def take_in(client: Client, site: Site, lines: str) -> str:
    sent = SimpleUploadedFile("log.csv", lines.encode())
    address = reverse("darkness_table", args=[site.pk])
    return text(client.post(address, {"table": sent}, follow=True))


def test_a_table_is_taken_into_the_log(cast: Cast, coordinator: Client) -> None:
    page = take_in(
        coordinator,
        cast.site,
        "time;magnitude;azimuth;moon_up;note\n"
        "2026-03-18 23:40;21,43;;no;clear\n"
        "2026-03-18T22:45Z;20,4;360;;\n"
        "2026-03-04 01:00;19,0;;yes;\n",
    )
    assert "3 readings are new in the log." in page
    zenith = DarknessReading.objects.get(azimuth_degrees=None, moon_up=False)
    assert (zenith.magnitude, zenith.how, zenith.note) == (21.43, "meter", "clear")
    assert zenith.at == datetime(2026, 3, 18, 22, 40, tzinfo=UTC)
    cast.site.refresh_from_db()
    assert (cast.site.sky_brightness, cast.site.sky_by_azimuth) == (21.43, [[0.0, 20.4]])


def test_our_own_table_is_taken_in_as_it_was(cast: Cast, coordinator: Client) -> None:
    Site.objects.update(sky_brightness=21.6, sky_measured_on="2025-08-14")
    save(coordinator, cast.site, typed(ZENITH, EAST, **METER))
    own = text(coordinator.get(reverse("darkness_csv", args=[cast.site.pk])))
    as_it_was = sorted(DarknessReading.objects.values_list("at", "magnitude", "azimuth_degrees",
                                                           "how", "note"), key=str)  # fmt: skip
    assert "3 were there already." in take_in(coordinator, cast.site, own)
    DarknessReading.objects.all().delete()
    Site.objects.update(sky_brightness=None)
    assert "3 readings are new" in take_in(coordinator, cast.site, own)
    again = DarknessReading.objects.values_list("at", "magnitude", "azimuth_degrees", "how", "note")
    assert sorted(again, key=str) == as_it_was


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("2026-03-18,21.4", "Line 3: “2026-03-18” is no time"),
        ("soon,21.4", "Line 3: “soon” is no time"),
        ("2026-03-29 02:30,21.4", "Line 3: the clocks were put forward over “2026-03-29 02:30”"),
        ("2026-03-18 23:40,dark", "Line 3: magnitude “dark” is not a number"),
        ("2026-03-18 23:40,nan", "Line 3: nan mag/arcsec² is no sky of a night"),
        ("2026-03-18 23:40,9", "Line 3: 9.00 mag/arcsec² is no sky of a night"),
        ("2026-03-18 13:00,21.4", "Line 3: At 13:00 the Sun was up"),
        ("2999-03-18 23:40,21.4", "Line 3: That moment is still to come"),
        ("2026-03-18 23:40,21.4,400", "Line 3: the azimuth 400 is outside"),
        ("2026-03-18 23:40,21.4,,maybe", "Line 3: moon_up is yes or no"),
        ("2026-03-18 23:40,21.4,,,guess", "Line 3: how is meter, frame or typed"),
        ("2026-03-18 23:40,21.4,,,," + "x" * 201, "Line 3: a note has at most 200 characters"),
    ],
)
def test_of_a_table_with_a_wrong_line_nothing_is_taken(
    cast: Cast, coordinator: Client, line: str, words: str
) -> None:
    right = "2026-03-17 23:40,21.4"
    lines = [f"{each}{',' * (5 - each.count(','))}" for each in (right, line)]
    heading = "time,magnitude,azimuth,moon_up,how,note"
    assert words in take_in(coordinator, cast.site, "\n".join([heading, *lines]))
    assert not DarknessReading.objects.exists()


def test_all_that_is_wrong_with_a_table_is_said_at_once(cast: Cast, coordinator: Client) -> None:
    lines = "time,magnitude\n2026-03-18 13:00,21.4\nsoon,21.4\n2026-03-18 23:40,9"
    page = take_in(coordinator, cast.site, lines)
    said = ("Line 2: At 13:00 the Sun was up", "Line 3: “soon” is no time", "Line 4: 9.00 mag")
    assert all(words in page for words in said)


def test_of_many_doubts_a_few_are_told_and_the_rest_counted(
    cast: Cast, coordinator: Client
) -> None:
    moonlit = "".join(f"2026-03-03 23:{minute},21.4\n" for minute in range(10, 17))
    page = take_in(coordinator, cast.site, f"time,magnitude\n{moonlit}")
    assert page.count("The Moon stood") == 5
    assert "… and 2 more." in page


def test_a_line_that_stands_twice_is_taken_once(cast: Cast, coordinator: Client) -> None:
    lines = "time,magnitude\n2026-03-18 23:40,21.4\n2026-03-18T22:40Z,21.4"
    page = take_in(coordinator, cast.site, lines)
    assert "1 reading is new in the log." in page
    assert DarknessReading.objects.count() == 1


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("", "The file is empty"),
        ("time,note\n2026-03-18 23:40,x", "missing columns: magnitude"),
        ("time,magnitude\n", "no lines under it"),
    ],
)
def test_what_is_no_table_is_refused(
    cast: Cast, coordinator: Client, lines: str, words: str
) -> None:
    assert words in take_in(coordinator, cast.site, lines)
