"""The head count behind an instructor's own link: on a phone, in the dark, without signal."""

from __future__ import annotations

import json
import uuid
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.templatetags.static import static
from django.urls import reverse
from django.utils import timezone
from django.utils.dateparse import parse_date, parse_datetime
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trips.almanac.local_time import clock
from trips.models import Tick, TripInstructor, TripNight
from trips.planning.head_count import missing_from
from trips.services.closing import close_night, reopen_night
from trips.services.head_counts import (
    Counted,
    SentTick,
    Taken,
    night_now,
    people_of,
    take,
)
from trips.services.refusals import RefusedError
from trips.views.link_doors import by_link, instructor_by

# What a phone without signal gathers in a night, and more.
MOST_TICKS, MOST_BYTES = 2000, 1_000_000
UNREADABLE = (ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError)


@require_http_methods(["GET", "HEAD", "POST"])
@by_link
def head_count(request: HttpRequest, token: str) -> HttpResponse:
    leader = instructor_by(token)
    night = _night(request, leader)
    if night is None:
        return render(request, "trips/head_count_none.html", {"trip": leader.trip})
    if request.method == "POST":
        take([_typed(request)], night=night, by=leader, now=timezone.now())
        return redirect(f"{request.get_full_path()}#lists")
    context = _context(request, night, leader, token)
    return render(request, "trips/head_count.html", context)


@require_POST
@by_link
def head_count_ticks(request: HttpRequest, token: str) -> HttpResponse:
    """Take what a phone gathered, and answer with the lists as they now stand."""
    leader, night = _counting(request, token)
    try:
        taken = take(_sent(request), night=night, by=leader, now=timezone.now())
    except UNREADABLE:
        words = _("These marks cannot be read. Load the page again; what it kept stays with it.")
        return JsonResponse({"refusal": words}, status=400)
    return JsonResponse(_answer(request, taken, _context(request, night, leader, token)))


@require_POST
@by_link
def head_count_close(request: HttpRequest, token: str) -> HttpResponse:
    """Say that all are back, or take that back; what stands against it is said on the page."""
    leader, night = _counting(request, token)
    try:
        _close_or_reopen(request, night, leader)
    except RefusedError as refused:
        context = _context(request, night, leader, token)
        context |= {"told": [refused.sentence], "may_close_all_the_same": True}
        return render(request, "trips/head_count.html", context)
    return redirect(f"{reverse('head_count', args=[token])}?night={night.date}#close")


def _close_or_reopen(request: HttpRequest, night: TripNight, leader: TripInstructor) -> None:
    if "reopen" in request.POST:
        reopen_night(night, by=leader.user, now=timezone.now())
        return
    despite = "all_the_same" in request.POST
    close_night(night, by=leader.user, now=timezone.now(), despite_open_ticks=despite)


@require_safe
@by_link
def head_count_paper(request: HttpRequest, token: str) -> HttpResponse:
    """A list to print, with boxes to tick by hand."""
    leader, night = _counting(request, token)
    context = _context(request, night, leader, token)
    return render(request, "trips/head_count_paper.html", context)


@require_safe
@by_link
def head_count_worker(request: HttpRequest, token: str) -> HttpResponse:
    """The script that keeps the page on the phone: under the link, and for nothing else."""
    instructor_by(token)
    files = ["vendor/pico/pico.min.css", "trips/looks.css", "trips/look.css", "trips/link.css",
             "trips/head_count.css", "trips/head_count.js", "trips/icon.svg"]  # fmt: skip
    kept = [reverse("head_count", args=[token]), *(static(name) for name in files)]
    return render(
        request, "trips/offline_worker.js", {"kept": kept}, content_type="text/javascript"
    )


@dataclass(frozen=True, slots=True)
class Lists:
    """Everybody in one of three: not ticked yet, here, or gone again."""

    still: list[Counted]
    here: list[Counted]
    left: list[Counted]


def _context(
    request: HttpRequest, night: TripNight, leader: TripInstructor, token: str
) -> dict[str, Any]:
    now, is_leaving = timezone.now(), "leaving" in request.GET
    people = people_of(night)
    lists = Lists(
        [one for one in people if not (one.standing.is_here or one.standing.has_left)],
        [one for one in people if one.standing.is_here],
        [one for one in people if one.standing.has_left],
    )
    zone = night.spot.site.zone
    first = min((one.standing.last.at for one in people if one.standing.last), default=None)
    return {
        "trip": leader.trip,
        "night": night,
        "nights": leader.trip.nights.order_by("date"),
        "spot": night.spot,
        "site": night.spot.site,
        "zone": zone,
        "leader": leader,
        "token": token,
        "people": people,
        "lists": lists,
        "missing_from": clock(missing_from(first), zone) if first else "",
        "now": clock(now, zone),
        "is_ending": is_leaving or bool(lists.left) or now >= night.ends_at,
        "uid": uuid.uuid4,
    }


def _counting(request: HttpRequest, token: str) -> tuple[TripInstructor, TripNight]:
    """Give who counts and the night; a trip without nights has nothing to count."""
    leader = instructor_by(token)
    night = _night(request, leader)
    if night is None:
        raise Http404
    return leader, night


def _night(request: HttpRequest, leader: TripInstructor) -> TripNight | None:
    if "night" not in request.GET:
        return night_now(leader.trip, now=timezone.now())
    try:
        asked = parse_date(request.GET["night"])
    except ValueError as error:
        raise Http404 from error
    nights = leader.trip.nights.select_related("spot__site", "trip")
    found: TripNight = get_object_or_404(nights, date=asked)
    return found


def _typed(request: HttpRequest) -> SentTick:
    """A press of a button without a script: it carries an id, so that two presses are one tick."""
    try:
        uid, kind = uuid.UUID(request.POST["uid"]), Tick.Kind(request.POST["kind"])
        return SentTick(uid, request.POST["who"], kind, timezone.now())
    except (KeyError, ValueError) as error:
        raise Http404 from error


def _sent(request: HttpRequest) -> list[SentTick]:
    """Read the marks of a phone. Errors: `UNREADABLE`."""
    if len(request.body) > MOST_BYTES:
        raise ValueError
    rows = json.loads(request.body)["ticks"]
    if len(rows) > MOST_TICKS:
        raise ValueError
    return [_read(row) for row in rows]


def _read(row: dict[str, Any]) -> SentTick:
    at = parse_datetime(row["at"])
    if at is None or at.tzinfo is None:
        raise ValueError
    return SentTick(uuid.UUID(row["uid"]), str(row["who"]), Tick.Kind(row["kind"]), at)


def _answer(request: HttpRequest, taken: Taken, context: dict[str, Any]) -> dict[str, Any]:
    lists = render(request, "trips/_head_count_lists.html", context).content.decode()
    return {
        "kept": [str(uid) for uid in taken.kept],
        "refused": [str(uid) for uid in taken.refused],
        "lists": lists,
    }
