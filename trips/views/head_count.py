"""The head count behind an instructor's own link: on a phone, in the dark, without signal."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.templatetags.static import static
from django.urls import reverse
from django.utils import timezone
from django.utils.dateparse import parse_date
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trips.almanac.local_time import clock
from trips.models import TripInstructor, TripNight
from trips.planning.head_count import missing_from
from trips.services.closing import close_night, reopen_night
from trips.services.head_counts import Counted, Taken, night_now, people_of, press, take
from trips.services.refusals import RefusedError
from trips.views.link_doors import by_link, instructor_by
from trips.views.sent_ticks import UNREADABLE, Sent, pressed_tick, sent_ticks


@require_http_methods(["GET", "HEAD", "POST"])
@by_link
def head_count(request: HttpRequest, token: str) -> HttpResponse:
    leader = instructor_by(token)
    night = _night(request, leader)
    if night is None:
        return render(request, "trips/head_count_none.html", {"trip": leader.trip})
    if request.method == "POST":
        press(pressed_tick(request), night=night, by=leader, now=timezone.now())
        return redirect(f"{request.get_full_path()}#lists")
    context = _context(request, night, leader, token)
    return render(request, "trips/head_count.html", context)


@require_POST
@by_link
def head_count_ticks(request: HttpRequest, token: str) -> HttpResponse:
    """Take what a phone gathered, and answer with the lists as they now stand."""
    leader, night = _counting(request, token)
    try:
        sent = sent_ticks(request)
    except UNREADABLE:
        words = _("These marks cannot be read. Load the page again; what it kept stays with it.")
        return JsonResponse({"refusal": words}, status=400)
    taken = take(sent.ticks, night=night, by=leader, now=timezone.now())
    lists = _context(request, night, leader, token)
    return JsonResponse(_answer(request, sent, taken, lists))


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


def _answer(
    request: HttpRequest, sent: Sent, taken: Taken, context: dict[str, Any]
) -> dict[str, Any]:
    """A phone sends no mark again that was kept or refused, and shows those that were refused."""
    unread = _("This mark cannot be read: count the person again.")
    return {
        "kept": [str(uid) for uid in taken.kept],
        "refused": [
            *({"uid": str(one.client_uid), "why": one.why} for one in taken.refused),
            *({"uid": uid, "why": unread} for uid in sent.unread),
        ],
        "lists": render(request, "trips/_head_count_lists.html", context).content.decode(),
    }
