"""The calendar as it goes out, octet by octet against RFC 5545, and read back by icalendar."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from icalendar import Calendar, Event

from tests.against.published import row
from tests.trips.joined import EVENING, MEETING, make_joinable, placed
from tests.trips.making import NOON, make_user
from trips import feeds
from trips.models import CalendarLink, Trip, TripNight
from trips.services import calendars, links, trip_nights
from trips.services.calendar_nights import calendar_of

pytestmark = pytest.mark.django_db

# Sequences of two, three and four octets, and a script that runs the other way.
MANY_OCTETS = ["é" * 110, "曙" * 100, "🌌" * 100, "ליל כוכבים ארוך, " * 6 + "סוף"]
HARMFUL = "=1+1 <b>x</b>\r\nEND:VEVENT\x00\x0b\u2028\x85;"


@pytest.fixture
def trip() -> Trip:
    trip = make_joinable(status=Trip.Status.CONFIRMED)
    trip.nights.update(meeting_latitude=40.41234567, meeting_longitude=-0.00001)
    return trip


def octets(trip: Trip) -> bytes:
    return feeds.written(calendar_of(_link(trip)))


def lines(trip: Trip) -> list[str]:
    """Give the content lines, unfolded by hand."""
    return re.sub(r"\r\n[ \t]", "", octets(trip).decode()).split("\r\n")


def read(trip: Trip) -> list[Event]:
    return list(Calendar.from_ical(octets(trip)).walk("VEVENT"))  # type: ignore[arg-type]


def _link(trip: Trip) -> CalendarLink:
    return calendars.make_link(Trip.objects.get(pk=trip.pk), now=NOON)


@pytest.mark.parametrize("name", MANY_OCTETS)
def test_no_line_is_longer_than_75_octets_and_no_sign_is_split(trip: Trip, name: str) -> None:
    limit = row("calendar", "K01")["expected"]
    Trip.objects.update(name=name)
    text = octets(trip)
    folded = text.split(limit["break"].encode())
    assert max(map(len, folded)) <= limit["octets"]
    assert [line.decode() for line in folded]  # each line is whole UTF-8 by itself
    assert any(line.startswith(b" ") for line in folded)
    assert read(trip)[0]["summary"] == name


def test_the_calendar_is_framed_and_says_once_what_it_must(trip: Trip) -> None:
    frame = row("calendar", "K02")["expected"]
    said = lines(trip)
    assert (said[0], said[-2], said[-1]) == (frame["first"], frame["last"], "")
    assert b"\n" not in octets(trip).replace(b"\r\n", b"")
    assert all(_count(said, name) == 1 for name in frame["once"])
    assert f"VERSION:{frame['version']}" in said


def test_each_entry_says_once_what_it_must(trip: Trip) -> None:
    required = row("calendar", "K03")["expected"]
    for event in _entries(lines(trip)):
        assert all(_count(event, name) == 1 for name in required["once"])
        assert sum(_count(event, name) for name in required["one_of"]) == 1


def test_instants_are_in_utc_without_a_zone_and_ends_come_later(trip: Trip) -> None:
    sign = row("calendar", "K04")["expected"]
    later, no_zone = row("calendar", "K05"), row("calendar", "K07")
    assert later["inputs"]["property"] == "DTEND"
    said = lines(trip)
    assert not any(no_zone["inputs"]["property"] in line for line in said)
    for event in _entries(said):
        stamps = [line for line in event if line.startswith("DT")]
        assert len(stamps) == 3
        assert all(re.fullmatch(rf"DT\w+:\d{{8}}T\d{{6}}{sign}", line) for line in stamps)
    assert all(event.end > event.start for event in read(trip))


def test_a_position_is_latitude_then_longitude_in_plain_decimals(trip: Trip) -> None:
    form = row("calendar", "K06")["expected"]
    said = next(line for line in lines(trip) if line.startswith("GEO"))
    numbers = said.removeprefix("GEO:").split(form["between"])
    assert numbers == ["40.41235", "-0.00001"]
    assert all(len(one.partition(".")[2]) <= form["most_decimals"] for one in numbers)


def test_signs_with_a_meaning_are_escaped_and_come_back(trip: Trip) -> None:
    published = row("calendar", "K08")
    typed, calendar = published["inputs"]["text"], calendar_of(_link(trip))
    night = replace(calendar.nights[0], description=typed)
    text = feeds.written(replace(calendar, nights=(night,)))
    assert f"\r\nDESCRIPTION:{published['expected']}\r\n" in text.decode()
    assert Calendar.from_ical(text).walk("VEVENT")[0]["description"] == typed


def test_what_somebody_typed_ends_no_line_and_no_entry(trip: Trip) -> None:
    Trip.objects.update(name=HARMFUL)
    trip.nights.update(meeting_point=HARMFUL)
    assert _count(lines(trip), "END") == 3
    assert not set("\x00\x0b\u2028\x85") & set(octets(trip).decode())
    assert read(trip)[0]["summary"] == "=1+1 <b>x</b> END:VEVENT ;"


def test_the_media_type_names_its_script() -> None:
    assert row("calendar", "K09")["expected"] == feeds.CONTENT_TYPE


def test_what_icalendar_reads_is_what_the_rows_say() -> None:
    """Field by field, of a person's own calendar."""
    person = placed(make_joinable(name="Night of é, 🌌 and ליל", capacity=3), "Ilse")
    own = Trip.objects.get(pk=person.trip_id)
    night = own.nights.get(date=EVENING)
    TripNight.objects.filter(pk=night.pk).update(
        decision=TripNight.Decision.GO, meeting_latitude=40.4, meeting_longitude=-1.1
    )
    link = calendars.make_link(own, person, now=NOON + timedelta(days=1))
    text = feeds.written(calendar_of(link))
    assert text == feeds.written(calendar_of(link))
    events: list[Any] = list(Calendar.from_ical(text).walk("VEVENT"))
    assert len(events) == 2
    first = events[0]
    assert first["uid"] == f"{night.uid}@127.0.0.1"
    assert (first.start, first.end) == (MEETING, night.ends_at)
    assert first["dtstamp"].dt == NOON.astimezone(UTC) + timedelta(days=1)
    assert first["sequence"] == night.version + own.version + 1
    assert [event["status"] for event in events] == ["CONFIRMED", "TENTATIVE"]
    assert first["summary"] == own.name
    assert first["location"] == "The chapel"
    assert (first["geo"].latitude, first["geo"].longitude) == (40.4, -1.1)
    assert "geo" not in events[1]
    assert first["url"] == f"http://127.0.0.1:8000/b/{links.token_of(person)}/"
    assert first["class"] == "PRIVATE"
    assert isinstance(first["dtstamp"].dt, datetime)


def test_a_night_that_was_taken_off_stays_as_a_cancelled_entry_of_a_later_edition(
    trip: Trip,
) -> None:
    published = row("calendar", "K10")["expected"]
    was: Any = read(trip)[0]
    night = TripNight.objects.select_related("trip", "spot__site").get(date=EVENING)
    trip_nights.remove_night(night, by=make_user(), now=NOON + timedelta(days=1))
    after: list[Any] = [*read(trip)]
    stays, gone = after
    assert stays["uid"] != was["uid"] == gone[published["same"]]
    assert gone[published["higher"]] > was[published["higher"]]
    assert gone["status"] == published["status"] != stays["status"]
    assert (gone.start, gone.end) == (was.start, was.end)
    assert gone["dtstamp"].dt == NOON + timedelta(days=1)
    assert gone["summary"] == f"Cancelled: {trip.name}"
    assert gone["description"] == "This night was taken off the trip. Do not set out."
    assert not {"location", "geo", "url"} & {name.lower() for name in gone}
    assert gone["class"] == "PRIVATE"
    assert "METHOD" not in octets(trip).decode()


def _count(said: list[str], name: str) -> int:
    return sum(re.split("[:;]", line)[0] == name for line in said)


def _entries(said: list[str]) -> list[list[str]]:
    begins = [n for n, line in enumerate(said) if line == "BEGIN:VEVENT"]
    assert begins
    return [said[n : said.index("END:VEVENT", n)] for n in begins]
