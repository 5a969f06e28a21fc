"""The history of a trip in words: when, who, what. A person who is deleted is only "somebody"."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.models import Enrolment, Trip, TripEvent, User

WORDS = {
    "made": gettext_lazy("made the trip"),
    "edited": gettext_lazy("edited the trip"),
    "stepped": gettext_lazy("took the trip from %(before)s to %(after)s"),
    "open": gettext_lazy("a place is free: the trip is open again"),
    "full": gettext_lazy("all places are taken: the trip is full"),
    "night_added": gettext_lazy("added the night of %(date)s"),
    "night_edited": gettext_lazy("edited the night of %(date)s"),
    "night_moved": gettext_lazy("moved the night of %(was)s to %(date)s"),
    "night_removed": gettext_lazy("took off the night of %(date)s"),
    "tides": gettext_lazy("wrote down the tides of %(date)s"),
    "night_closed": gettext_lazy("closed the night of %(date)s: everybody is back"),
    "night_reopened": gettext_lazy("took back that the night of %(date)s is closed"),
    "turns_shared": gettext_lazy("shared out turns for the night of %(date)s"),
    "turns_given": gettext_lazy("gave free turns of the night of %(date)s"),
    "turns_removed": gettext_lazy("put away turns of the night of %(date)s"),
    "count_link_renewed": gettext_lazy("made a head-count link useless"),
    "decided": gettext_lazy("decided on the night of %(date)s"),
    "brief_published": gettext_lazy("published version %(number)s of the brief of %(date)s"),
    "brief_note": gettext_lazy("wrote into the brief of %(date)s"),
    "logged": gettext_lazy("wrote the log of the night of %(date)s"),
    "cars": gettext_lazy("changed the cars"),
    "drivers": gettext_lazy("chose who drives"),
    "instructor_added": gettext_lazy("made %(user)s an instructor"),
    "instructor_phone": gettext_lazy("changed the number of %(user)s"),
    "instructor_off": gettext_lazy("took %(user)s off the instructors"),
    "invitation_renewed": gettext_lazy("made a new invitation; the old one opens nothing"),
    "held": gettext_lazy("has a place held"),
    "waiting": gettext_lazy("is on the waiting list"),
    "moved_up": gettext_lazy("was moved up from the waiting list"),
    "placed": gettext_lazy("has a place"),
    "given_back": gettext_lazy("gave the place back"),
    "lapsed": gettext_lazy("let the place lapse"),
    "removed": gettext_lazy("was taken off"),
    "no_show": gettext_lazy("did not come"),
    "forgotten": gettext_lazy("had everything deleted that was kept"),
    "all_forgotten": gettext_lazy("what was kept of people is deleted"),
    "loan_granted": gettext_lazy("is lent a piece of the loan kit on %(date)s"),
    "loan_refused": gettext_lazy("is not lent a piece of the loan kit on %(date)s"),
    "link_renewed": gettext_lazy("has a new private link"),
    "calendar_made": gettext_lazy("made a calendar to subscribe to"),
    "calendar_revoked": gettext_lazy("made the address of a calendar useless"),
}


@dataclass(frozen=True, slots=True)
class Deed:
    """`who` is the one that the words are about, "" where it happened by itself; `by` is the member
    who did it to a participant."""

    at: datetime
    who: str
    by: str
    words: str


def deeds_of(trip: Trip) -> list[Deed]:
    """Give what happened, the latest first. Three queries."""
    events = list(TripEvent.objects.filter(trip=trip).select_related("by"))
    people = {
        one.uid: one.person.name
        for one in Enrolment.objects.filter(trip=trip).select_related("person")
    }
    named = {event.detail["user"] for event in events if "user" in event.detail}
    users = {user.pk: user.called for user in User.objects.filter(pk__in=named)}
    return [_deed(event, people, users) for event in events]


def _deed(event: TripEvent, people: Mapping[Any, str], users: Mapping[int, str]) -> Deed:
    by = event.by.called if event.by else ""
    if event.enrolment_uid is None:
        return Deed(event.at, by, "", _words(event, users))
    return Deed(event.at, people.get(event.enrolment_uid, _("somebody")), by, _words(event, users))


def _words(event: TripEvent, users: Mapping[int, str]) -> str:
    """Say what was done; a deed without words of its own by its code."""
    detail = event.detail
    told = {
        "before": _status(detail.get("before", "")),
        "after": _status(detail.get("after", "")),
        "date": _day(detail.get("date", "")),
        "was": _day(detail.get("was", "")),
        "number": detail.get("number", ""),
        "user": users.get(detail.get("user", 0), _("somebody")),
    }
    words = WORDS.get(event.what)
    return words % told if words else event.what.replace("_", " ")


def _status(code: str) -> str:
    return str(Trip.Status(code).label) if code in Trip.Status.values else code


def _day(text: str) -> str:
    try:
        return date_format(date.fromisoformat(text), "j F Y")
    except ValueError:
        return text
