"""What an instructor does with a night's brief: written into, published, decided with it."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from trips.almanac.wording import SkyError, sentence
from trips.models import Brief, TripNight
from trips.planning.brief.parts import PARTS
from trips.services.briefs.deciding import decide_and_publish, decided_words
from trips.services.briefs.notes import save_note
from trips.services.briefs.publishing import publish
from trips.services.refusals import RefusedError
from trips.views.brief_hand import Typed, hand_page, night_in_hand
from trips.views.kept_typing import typing_kept
from trips.views.members import member, require_leader


@require_POST
@typing_kept
def trip_night_brief_part(request: HttpRequest, night_id: int, part: str) -> HttpResponse:
    night = _led(request, night_id)
    if part not in PARTS:
        raise Http404
    text, is_instead = request.POST.get("text", ""), "is_instead" in request.POST
    try:
        save_note(
            night,
            part,
            text=text,
            is_instead=is_instead,
            version=_number(request.POST.get("version", "")) or 0,
            by=member(request),
            now=timezone.now(),
        )
    except RefusedError as error:
        refused = Typed(part, text, is_instead, error.sentence)
        # What is put into the page as it stands is shown whatever it says; a page by itself is not.
        status = 200 if "HX-Request" in request.headers else 422
        return hand_page(request, night, typed=refused, status=status)
    # The part says that it is saved: the top of the page is far from it.
    page = reverse("trip_night_brief", args=[night.pk])
    return HttpResponseRedirect(f"{page}?saved={part}#hand-{part}")


@require_POST
@login_required
def trip_night_brief_publish(request: HttpRequest, night_id: int) -> HttpResponse:
    night = _led(request, night_id)
    try:
        brief = publish(
            night,
            by=member(request),
            now=timezone.now(),
            is_mailed="is_mailed" in request.POST,
            expects=_number(request.POST.get("expects", "")),
        )
    except RefusedError as error:
        messages.warning(request, error.sentence)
    except SkyError as error:
        messages.warning(request, sentence(error))
    else:
        messages.success(request, _published(brief))
    return redirect("trip_night_brief", night.pk)


@require_POST
@login_required
def trip_night_brief_decide(request: HttpRequest, night_id: int) -> HttpResponse:
    """Decide whether people go, and publish the brief that says so, in one press."""
    night = _led(request, night_id)
    try:
        done = decide_and_publish(
            night,
            request.POST.get("decision", "?"),
            seen=request.POST.get("seen"),
            publishes="publishes" in request.POST,
            by=member(request),
            now=timezone.now(),
        )
    except RefusedError as error:
        messages.warning(request, error.sentence)
    else:
        messages.success(request, decided_words(done))
    return redirect("trip_night_brief", night.pk)


def _published(brief: Brief) -> str:
    words = _("Version %(number)d is published. People read it on their page; nobody is mailed.")
    if brief.is_mailed:
        words = _("Version %(number)d is published. Everybody with a place is mailed.")
    return words % {"number": brief.number}


def _led(request: HttpRequest, night_id: int) -> TripNight:
    night = night_in_hand(request, night_id)
    require_leader(request, night.trip)
    return night


def _number(typed: str) -> int | None:
    return int(typed[:9]) if typed.isascii() and typed.isdecimal() else None
