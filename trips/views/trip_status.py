"""How a trip stands: in one sentence, with the steps that lead on and what each still wants."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from trips.forms.trip import PACKAGE
from trips.models import Enrolment, Trip
from trips.planning.trip_steps import OVER, STEPS, may_step
from trips.services.letter_kinds.written import address
from trips.services.links import invitation_of
from trips.services.step_needs import Standing, needs
from trips.templatetags.runs import whole_evenings
from trips.views.board import Board

Status = Trip.Status

# Open and full follow from the places taken; the rest is done by hand.
DEEDS = {
    Status.OPEN: gettext_lazy("Open it"),
    Status.CONFIRMED: gettext_lazy("Confirm it"),
    Status.RUNNING: gettext_lazy("It begins"),
    Status.DONE: gettext_lazy("It is done"),
}
WHAT_FOLLOWS = {
    Status.OPEN: gettext_lazy("Then people can ask for a place."),
    Status.CONFIRMED: gettext_lazy(
        "Everybody with a place is told by mail; from then on a letter calls out when a night is "
        "not closed in time."
    ),
    Status.RUNNING: gettext_lazy("From the day of the first night."),
    Status.DONE: gettext_lazy("When everybody is back from the last night."),
}
WAY = (Status.DRAFT, Status.OPEN, Status.CONFIRMED, Status.RUNNING, Status.DONE)


@dataclass(frozen=True, slots=True)
class NextStep:
    """`missing` is what it still wants, in sentences; empty: it may be taken."""

    to: str
    deed: str
    follows: str
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Stage:
    """A status on the way, and whether the trip is there now."""

    label: str
    is_now: bool


def status_part(board: Board) -> dict[str, Any]:
    trip, may_change = board.trip, board.may_change
    is_told = may_change and trip.status not in OVER
    return {
        "may_change": may_change,
        "answer": " ".join(_answer(board)),
        "stages": [] if trip.status == Status.CANCELLED else list(_stages(trip)),
        "next_steps": list(_next_steps(board)) if may_change else [],
        "may_cancel": may_change and may_step(trip.status, Status.CANCELLED),
        "is_over": trip.status in OVER,
        "package": PACKAGE if trip.includes_beds or trip.includes_transport else "",
        "invitation": address("invitation", invitation_of(trip)) if is_told else "",
        "open_page": address("join", trip.uid) if trip.is_public else "",
    }


def _answer(board: Board) -> Iterator[str]:
    trip, taken = board.trip, len(board.placed)
    yield _STANDING[trip.status](trip, taken)
    if board.nights:
        first, last = board.nights[0].date, board.nights[-1].date
        words = ngettext("%(n)d night, %(dates)s.", "%(n)d nights, %(dates)s.", len(board.nights))
        yield words % {"n": len(board.nights), "dates": whole_evenings(first, last)}
    waiting = sum(one.state == Enrolment.State.WAITING for one in board.enrolments)
    if waiting:
        yield ngettext("%(n)d person waits.", "%(n)d people wait.", waiting) % {"n": waiting}
    if trip.status in (Status.OPEN, Status.FULL):
        yield from _deadlines(trip, taken)


def _deadlines(trip: Trip, taken: int) -> Iterator[str]:
    if trip.decided_by:
        words = ngettext(
            "Whether it runs is decided by %(day)s, with at least %(least)d person.",
            "Whether it runs is decided by %(day)s, with at least %(least)d people.",
            trip.least_people,
        )
        yield words % {"day": date_format(trip.decided_by, "l j F"), "least": trip.least_people}
    elif taken < trip.least_people:
        words = ngettext(
            "It runs with at least %(least)d person.",
            "It runs with at least %(least)d people.",
            trip.least_people,
        )
        yield words % {"least": trip.least_people}


def _places(trip: Trip, taken: int) -> str:
    words = ngettext(
        "%(taken)d of %(places)d places is taken.", "%(taken)d of %(places)d places are taken.",
        taken,
    )  # fmt: skip
    return words % {"taken": taken, "places": trip.capacity}


_STANDING: dict[str, Callable[[Trip, int], str]] = {
    Status.DRAFT: lambda _trip, _taken: _("A draft: only members see it."),
    Status.OPEN: lambda trip, taken: _("Open: %s") % _places(trip, taken),
    Status.FULL: lambda trip, taken: _("Full: %s") % _places(trip, taken),
    Status.CONFIRMED: lambda trip, taken: _("It takes place: %s") % _places(trip, taken),
    Status.RUNNING: lambda trip, taken: _("Under way: %s") % _places(trip, taken),
    Status.DONE: lambda trip, taken: _("Done: %s") % _places(trip, taken),
    Status.CANCELLED: lambda trip, _taken: _cancelled(trip.status_since),
}


def _cancelled(since: datetime | None) -> str:
    if since is None:
        return _("Cancelled. Its page stays to be read.")
    day = date_format(since, "j F Y")
    return _("Cancelled on %(day)s. Its page stays to be read.") % {"day": day}


def _stages(trip: Trip) -> Iterator[Stage]:
    now = Status.OPEN if trip.status == Status.FULL else trip.status
    for status in WAY:
        shown = trip.get_status_display() if status == now else Status(status).label
        yield Stage(str(shown), status == now)


def _next_steps(board: Board) -> Iterator[NextStep]:
    standing = Standing(board.trip, board.nights, len(board.placed))
    for to in STEPS[board.trip.status]:
        follows_by_itself = board.trip.status == Status.FULL and to == Status.OPEN
        if to in DEEDS and not follows_by_itself:
            missing = tuple(needs(standing, to, now=board.now))
            follows = " ".join(_follows(board.trip, Status(to)))
            yield NextStep(to, str(DEEDS[Status(to)]), follows, missing)


def _follows(trip: Trip, to: Trip.Status) -> Iterator[str]:
    yield str(WHAT_FOLLOWS[to])
    if to == Status.CONFIRMED and not trip.contact_mail:
        yield _("So far it would reach those who lead alone: write down a contact at home.")
