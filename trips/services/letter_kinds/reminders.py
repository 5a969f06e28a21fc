"""Reminders before a trip's first night: what to do by now, and at last to open the brief."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.models import Enrolment, Letter, SiteMonth, Trip, TripNight
from trips.models.enrolment import COMING
from trips.services.briefs.glance import cold_answer
from trips.services.briefs.one_file import NAME, one_file
from trips.services.briefs.reading import Reading, read
from trips.services.briefs.texts import way_text
from trips.services.letter_kinds.briefs import brief_link, caller_of, day_of
from trips.services.letter_kinds.places import how_it_stands, nights_of
from trips.services.letter_kinds.post import Kind
from trips.services.letter_kinds.to_person import enrolment_of, link_of, written_to
from trips.services.letter_kinds.written import Enclosed, Written
from trips.services.night_cold import cold_of_night
from trips.services.night_times import first_night, spot_decided
from trips.services.silence import silence

# How many days before people first meet; each reminder is one until the next one is due.
DAYS = {"reminder_14": 14, "reminder_3": 3, "reminder_1": 1}
LAST = "reminder_1"
ENDS = {"reminder_14": 3, "reminder_3": 1, "reminder_1": 0}
HTML = "text/html"


def two_weeks_before(letter: Letter) -> Written | None:
    """Say what takes time: gear that is lacking, the way, warm clothes."""
    enrolment, night = _coming(letter)
    if enrolment is None or night is None:
        return None
    return written_to(
        enrolment,
        _("It begins on %(day)s: %(trip)s") % {"day": day_of(night), "trip": "%(trip)s"},
        nights_of(letter.trip),
        _("What to do by now:"),
        _list(_rest(enrolment), _gear(enrolment), _way(night), _cold(enrolment, night),
              _giving_back(letter.trip)),
        _("All of it is on your page:"),
        link_of(enrolment),
    )  # fmt: skip


def three_days_before(letter: Letter) -> Written | None:
    """Say what to pack, and when it is decided."""
    enrolment, night = _coming(letter)
    if enrolment is None or night is None:
        return None
    return written_to(
        enrolment,
        _("Pack for %(day)s: %(trip)s") % {"day": day_of(night), "trip": "%(trip)s"},
        nights_of(letter.trip),
        silence(night, caller=caller_of(letter.trip)),
        _("What to do by now:"),
        _list(
            _rest(enrolment), _gear(enrolment),
            _("Charge all batteries, empty the cards, try your red light in a dark room."),
            _cold(enrolment, night), _way(night),
        ),
        _("Your page:"),
        link_of(enrolment),
    )  # fmt: skip


def the_day_before(letter: Letter) -> Written | None:
    """Let the brief be opened while there is signal; it is enclosed as well, a file a night."""
    enrolment, night = _coming(letter)
    if enrolment is None or night is None:
        return None
    readings = list(_readings(enrolment))
    is_there = bool(readings)
    return written_to(
        enrolment,
        _("Open your brief now, before %(day)s: %(trip)s")
        % {"day": day_of(night), "trip": "%(trip)s"},
        _("Open it now, while there is signal; then it opens without:") if is_there
        else _("No brief is published yet; a mail may still come. Your page:"),
        brief_link(enrolment, night) if is_there else link_of(enrolment),
        _("The same is enclosed as a file, for a phone that shows nothing else.")
        if is_there else "",
        silence(night, caller=caller_of(letter.trip)),
        nights_of(letter.trip),
        _list(_rest(enrolment), _cold(enrolment, night)),
        files=tuple(_enclosed(one) for one in readings),
    )  # fmt: skip


def _until(letter: Letter) -> datetime | None:
    night = first_night(letter.trip)
    return night.meeting_at - timedelta(days=ENDS[letter.kind]) if night else None


REMINDERS: dict[str, Kind] = {
    "reminder_14": Kind(two_weeks_before, until=_until),
    "reminder_3": Kind(three_days_before, until=_until),
    "reminder_1": Kind(the_day_before, until=_until),
}


def _coming(letter: Letter) -> tuple[Enrolment | None, TripNight | None]:
    """Give who still comes, and the first night; nobody to a trip that does not take place."""
    if letter.trip.status == Trip.Status.CANCELLED:
        return None, None
    return enrolment_of(letter, *COMING), first_night(letter.trip)


def _list(*lines: str) -> str:
    return "\n".join(f"- {line}" for line in lines if line)


def _rest(enrolment: Enrolment) -> str:
    return how_it_stands(enrolment) if enrolment.state == Enrolment.State.HELD else ""


def _gear(enrolment: Enrolment) -> str:
    if enrolment.gear.exists():
        return _("Look whether your gear is as you wrote it; what you lack can perhaps be lent.")
    return _(
        "Say what you bring: your brief then has settings for your own lens, and what you lack "
        "can perhaps be lent."
    )


def _way(night: TripNight) -> str:
    told = " ".join(list(way_text(night, spot_decided(night)))[:-1])
    return _("The way: %(way)s") % {"way": told} if told else ""


def _cold(enrolment: Enrolment, night: TripNight) -> str:
    months = SiteMonth.objects.filter(site=spot_decided(night).site_id, month=night.date.month)
    said = cold_answer(cold_of_night(night, months), enrolment.person.units)
    return _("Coldest: %(cold)s. %(more)s") % {"cold": said.words, "more": said.more}


def _giving_back(trip: Trip) -> str:
    if trip.give_back_until is None:
        return ""
    words = _("If you cannot come, give the place back until %(day)s.")
    return words % {"day": date_format(trip.give_back_until, "l, j F")}


def _readings(enrolment: Enrolment) -> Iterator[Reading]:
    for evening in enrolment.trip.nights.values_list("date", flat=True):
        reading = read(enrolment, evening)
        if reading is not None:
            yield reading


def _enclosed(reading: Reading) -> Enclosed:
    name = NAME % {"evening": reading.facts["evening"], "number": reading.number}
    return Enclosed(name, one_file(reading).encode(), HTML)
