"""Letters about places: to the person alone, each with the private link."""

from __future__ import annotations

from datetime import datetime

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock, local
from trips.models import Enrolment, Letter, Trip, TripNight
from trips.services import places
from trips.services.letter_kinds.post import Kind
from trips.services.letter_kinds.to_person import enrolment_of, link_of, names_of, written_to
from trips.services.letter_kinds.written import Written, named

State = Enrolment.State


def link(letter: Letter) -> Written | None:
    """The private link: to confirm with, and later with how it stands."""
    enrolment = enrolment_of(letter)
    if enrolment is None:
        return None
    if enrolment.state == State.ASKED:
        asked = _("Somebody, we hope you, asked for a place on “%(trip)s” with this mail address.")
        return written_to(
            enrolment,
            _("Confirm that you want a place: %(trip)s"),
            asked % names_of(enrolment),
            _("Open this page and press the button; until then no place is held for you:"),
            link_of(enrolment),
            _(
                "If it was not you, do nothing: what was written is deleted two days after it "
                "was asked for."
            ),
        )
    return written_to(
        enrolment,
        _("Your private page: %(trip)s"),
        how_it_stands(enrolment),
        _("Your page, with everything about your place:"),
        link_of(enrolment),
        _private(),
    )


def moved_up(letter: Letter) -> Written | None:
    enrolment = enrolment_of(letter, State.HELD)
    if enrolment is None:
        return None
    return written_to(
        enrolment,
        _("A place is free for you: %(trip)s"),
        _("A place on “%(trip)s” became free, and you are next on the waiting list.")
        % names_of(enrolment),
        how_it_stands(enrolment),
        link_of(enrolment),
        _("If you cannot come, give the place back there, so that the next one gets it."),
    )


def hold_ends(letter: Letter) -> Written | None:
    enrolment = enrolment_of(letter, State.HELD)
    if enrolment is None:
        return None
    return written_to(
        enrolment,
        _("Your place is held a day longer: %(trip)s"),
        how_it_stands(enrolment),
        link_of(enrolment),
    )


def lapsed(letter: Letter) -> Written | None:
    enrolment = enrolment_of(letter, State.LAPSED)
    if enrolment is None:
        return None
    return written_to(
        enrolment,
        _("Your place is no longer held: %(trip)s"),
        _(
            "The time for which a place on “%(trip)s” was held for you is over, and nothing more "
            "was filled in. The place goes to the next one who asked."
        )
        % names_of(enrolment),
        _("If you still want to come, ask again on the page where you asked first."),
        _("What is kept of you, and how it is deleted:"),
        link_of(enrolment),
    )


def removed(letter: Letter) -> Written | None:
    enrolment = enrolment_of(letter, State.REMOVED)
    if enrolment is None:
        return None
    return written_to(
        enrolment,
        _("You no longer have a place: %(trip)s"),
        _("The organiser took you off “%(trip)s”. If you do not know why, ask them.")
        % names_of(enrolment),
        _("What is kept of you, and how it is deleted:"),
        link_of(enrolment),
    )


def placed(letter: Letter) -> Written | None:
    enrolment = enrolment_of(letter, State.PLACED)
    if enrolment is None:
        return None
    return written_to(
        enrolment,
        _("You have a place: %(trip)s"),
        _("You have a place on “%(trip)s”.") % names_of(enrolment),
        nights_of(enrolment.trip),
        _("Your page, with everything about your place:"),
        link_of(enrolment),
        _private(),
    )


def trip_confirmed(letter: Letter) -> Written | None:
    enrolment = enrolment_of(letter, State.HELD, State.PLACED)
    if enrolment is None or letter.trip.status != Trip.Status.CONFIRMED:
        return None
    return written_to(
        enrolment,
        _("It runs: %(trip)s"),
        _("“%(trip)s” runs: enough people come.") % names_of(enrolment),
        nights_of(enrolment.trip),
        link_of(enrolment),
    )


def trip_cancelled(letter: Letter) -> Written | None:
    enrolment = enrolment_of(letter, State.HELD, State.PLACED, State.WAITING)
    if enrolment is None or letter.trip.status != Trip.Status.CANCELLED:
        return None
    return written_to(
        enrolment,
        _("Cancelled, do not set out: %(trip)s"),
        _("“%(trip)s” is cancelled. Do not set out.") % names_of(enrolment),
        _("What is kept of you, and how it is deleted:"),
        link_of(enrolment),
    )


PLACES: dict[str, Kind] = {
    "link": Kind(link),
    "moved_up": Kind(moved_up),
    "hold_ends": Kind(hold_ends),
    "lapsed": Kind(lapsed),
    "removed": Kind(removed),
    "placed": Kind(placed),
    "trip_confirmed": Kind(trip_confirmed),
    "trip_cancelled": Kind(trip_cancelled),
}


def how_it_stands(enrolment: Enrolment) -> str:
    """Say in a sentence or two whether the person has a place, and what is to be done."""
    words = _standing().get(enrolment.state, "")
    held_until = enrolment.held_until
    return words % {
        **names_of(enrolment),
        "number": places.number_in_queue(enrolment) or 0,
        "until": moment(held_until, places.zone_of_trip(enrolment.trip)) if held_until else "",
    }


def moment(instant: datetime, zone: str) -> str:
    """Give "Saturday, 5 June 2027, 21:30 (Europe/Madrid)"."""
    return _("%(when)s (%(zone)s)") % {"when": _on_clock(instant, zone), "zone": zone}


def nights_of(trip: Trip) -> str:
    """List when and where people meet, a line for each night, the zone once."""
    nights = list(trip.nights.select_related("spot__site"))
    if not nights:
        return ""
    zones = {night.spot.site.zone for night in nights}
    meet = _("You meet (times of %(zone)s):") % {"zone": ", ".join(sorted(zones))}
    return "\n".join([meet, *map(_meeting, nights)])


def _meeting(night: TripNight) -> str:
    return _("%(when)s: %(where)s") % {
        "when": _on_clock(night.meeting_at, night.spot.site.zone),
        "where": named(night.meeting_point) or named(night.spot.site.name),
    }


def _on_clock(instant: datetime, zone: str) -> str:
    day = date_format(local(instant, zone), "l, j F Y")
    return _("%(day)s, %(time)s") % {"day": day, "time": clock(instant, zone)}


def _standing() -> dict[str, str]:
    return {
        State.WAITING: _(
            "All places on “%(trip)s” are taken. You are number %(number)d on the waiting list; "
            "if a place becomes free for you, a mail tells you."
        ),
        State.HELD: _(
            "A place on “%(trip)s” is held for you until %(until)s. Open your page and fill in "
            "what a leader must know; then the place is yours."
        ),
        State.PLACED: _("You have a place on “%(trip)s”."),
        State.NO_SHOW: _("You had a place on “%(trip)s” and were not seen there."),
        State.GIVEN_BACK: _("You gave your place on “%(trip)s” back."),
        State.LAPSED: _("The place on “%(trip)s” that was held for you lapsed."),
        State.REMOVED: _("The organiser took you off “%(trip)s”."),
    }


def _private() -> str:
    return _("The link is yours alone: whoever has it can give your place back.")
