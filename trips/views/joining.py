"""The way in: by the invitation, or by the open page of a public trip. A mail says the rest."""

from __future__ import annotations

from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from trips.forms.joining import AskForm
from trips.forms.layout import mistakes
from trips.models import Trip
from trips.services import joining
from trips.services.limits import Limit
from trips.services.refusals import RefusedError
from trips.views.limited import refuse_crowd
from trips.views.link_doors import by_link, invited_to
from trips.views.trip_told import told_of

ASKED = "asked"
# Of one address, in an hour: a hut full of people may share one.
ASKING = Limit("ask", most=120, seconds=3600)


@require_http_methods(["GET", "HEAD", "POST"])
@by_link
def invitation(request: HttpRequest, token: str) -> HttpResponse:
    return _answer(request, invited_to(token))


@require_http_methods(["GET", "HEAD", "POST"])
@by_link
def join(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Show the open page; a draft has none, nor has a trip that asks for an invitation."""
    public = Trip.objects.exclude(status=Trip.Status.DRAFT).filter(is_public=True, uid=uid)
    trip = public.select_related("organisation").first()
    if trip is None:
        raise Http404
    return _answer(request, trip)


def _answer(request: HttpRequest, trip: Trip) -> HttpResponse:
    now = timezone.now()
    form = AskForm(request.POST if request.method == "POST" else None)
    refusal = ""
    if request.method == "POST" and form.is_valid():
        refuse_crowd(request, ASKING)
        try:
            joining.ask(trip, **form.cleaned_data, now=now)
        except RefusedError as error:
            refusal = error.sentence
        else:
            # The same for everybody: whether that mail is known is for who reads it alone.
            return HttpResponseRedirect(f"{request.path}?{ASKED}=1")
    context = {
        "facts": told_of(trip, now=now),
        "trip": trip,
        "form": form,
        "mistakes": mistakes(form),
        "refusal": refusal,
        "is_asked": ASKED in request.GET,
    }
    return render(request, "trips/join.html", context)
