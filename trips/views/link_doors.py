"""The doors that a private link opens: no account, no cookie.

`PrivateLinkMiddleware` keeps their addresses quiet.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.csrf import csrf_exempt

from trips.looks import LOOKS
from trips.models import CalendarLink, Enrolment, Trip, TripInstructor
from trips.services import calendars, links
from trips.services.limits import Limit
from trips.views.limited import TooOftenError, client_of, too_often
from trips.views.look import keep_look

View = Callable[..., HttpResponse]
RowT = TypeVar("RowT", Enrolment, TripInstructor, CalendarLink, Trip)

# A link cannot be guessed; this keeps whoever tries from keeping the service busy.
MISSES = Limit("missed-link", most=60, seconds=600)


def by_link(view: View) -> View:
    """Answer a link that opens nothing in one way; take a chosen look.

    No CSRF token: the link itself is the right, no cookie carries one, and a browser that may
    tell nobody where it comes from could not prove it.
    """

    @csrf_exempt
    @wraps(view)
    def guarded(request: HttpRequest, *args: object, **options: object) -> HttpResponse:
        look = request.GET.get("look")
        if look is not None and look in LOOKS:
            return keep_look(HttpResponseRedirect(request.path), look, secure=request.is_secure())
        return _answered(view, request, *args, **options)

    return guarded


def _answered(view: View, request: HttpRequest, *args: object, **options: object) -> HttpResponse:
    """Answer a link that opens nothing always in the same way, and not for ever.

    A link that opens something is never locked: a leader who cannot close a night, behind the
    same address as somebody who guesses, would be called out for nothing.
    """
    try:
        return view(request, *args, **options)
    except TooOftenError as error:
        return too_often(request, error.limit)
    except (Http404, Enrolment.DoesNotExist):  # the latter: deleted while it was being answered
        if MISSES.count(client_of(request)) > MISSES.most:
            return too_often(request, MISSES)
        return render(request, "link_404.html", status=404)


def enrolment_by(token: str) -> Enrolment:
    """Give the enrolment of a link; guessed, revoked and expired ones are all no page."""
    rows = Enrolment.objects.select_related("trip__organisation", "person")
    found: Enrolment | None = links.found(rows, token, at=timezone.now())
    return _or_no_page(found)


def reader_by(token: str) -> Enrolment:
    """Give the same with no more than what tells whether they may read: that is most of the time
    that a brief takes to open, and everybody opens it at once."""
    rows = Enrolment.objects.select_related("trip").only("state", "trip__status")
    found: Enrolment | None = links.found(rows, token, at=timezone.now())
    return _or_no_page(found)


def instructor_by(token: str) -> TripInstructor:
    rows = TripInstructor.objects.select_related("trip__organisation", "user")
    found: TripInstructor | None = links.found(rows, token, at=timezone.now())
    return _or_no_page(found)


def calendar_by(token: str) -> CalendarLink:
    return _or_no_page(calendars.find(token, at=timezone.now()))


def invited_to(token: str) -> Trip:
    return _or_no_page(links.invited(Trip.objects.select_related("organisation"), token))


def _or_no_page(row: RowT | None) -> RowT:
    if row is None:
        raise Http404
    return row
