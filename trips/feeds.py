"""A calendar as text (RFC 5545): from values to lines, nothing decided."""

from __future__ import annotations

from datetime import datetime, timedelta

from icalendar import Calendar, Event
from icalendar.prop import vInline, vText

from trips.services.calendar_nights import CalendarNight, NightsCalendar

CONTENT_TYPE = "text/calendar; charset=utf-8"
MAKER = "-//Fieldnights//Nights of a trip//EN"
# How often a program should look again (RFC 7986); some look once a day all the same.
LOOK_AGAIN = timedelta(hours=1)


def written(calendar: NightsCalendar) -> bytes:
    """Give the same octets until what is told changes: the stamp is that of the last change."""
    made = Calendar()
    made.add("prodid", MAKER)
    made.add("version", "2.0")
    made.add("name", vText(calendar.name))
    made.add("x-wr-calname", vText(calendar.name))  # what programs read before RFC 7986
    made.add("refresh-interval", LOOK_AGAIN, parameters={"VALUE": "DURATION"})
    for night in calendar.nights:
        made.add_component(_event(night, calendar.revised_at))
    text: bytes = made.to_ical()
    return text


def _event(night: CalendarNight, revised_at: datetime) -> Event:
    event = Event()
    event.add("uid", night.uid)
    event.add("dtstamp", revised_at)
    event.add("sequence", night.sequence)
    event.add("status", night.status)
    event.add("class", "PRIVATE")
    event.add("dtstart", night.starts_at)
    event.add("dtend", night.ends_at)
    event.add("summary", night.summary)
    event.add("description", night.description)
    if night.location:
        event.add("location", night.location)
    if night.position:
        # By ourselves: the library writes small angles with an exponent, which is no FLOAT.
        event.add("geo", vInline(";".join(f"{angle:z.5f}" for angle in night.position)))
    if night.url:
        event.add("url", night.url)
    return event
