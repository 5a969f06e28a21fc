"""A person's own page behind the mailed link: confirming, filling in, giving back.

Whoever opens a link changes nothing by it: mail scanners open them all.
"""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trips.forms.joining import REST_GROUPS, RestForm, said_before
from trips.forms.layout import laid_out, mistakes
from trips.models import Enrolment, Trip
from trips.models.enrolment import COMING, OVER
from trips.services import calendars, joining, places
from trips.services.briefs.reading import published
from trips.services.forgetting import forget_on_request
from trips.services.kept import kept_of
from trips.services.letter_kinds.places import how_it_stands
from trips.services.letter_kinds.written import address
from trips.services.refusals import RefusedError
from trips.views.link_doors import by_link, enrolment_by
from trips.views.trip_told import told_of

State = Enrolment.State
SAID = "said"
ENDED = (Trip.Status.DONE, Trip.Status.CANCELLED)
COUNTED = (State.WAITING, *COMING)


@require_http_methods(["GET", "HEAD", "POST"])
@by_link
def place(request: HttpRequest, token: str) -> HttpResponse:
    """Show how it stands; by POST keep what a leader must know."""
    enrolment = enrolment_by(token)
    if request.method != "POST":
        return _page(request, token, enrolment, RestForm(initial=said_before(enrolment)))
    form = RestForm(request.POST)
    if not form.is_valid():
        return _page(request, token, enrolment, form)
    try:
        joining.say_the_rest(enrolment, form.rest(), now=timezone.now())
    except RefusedError as error:
        return _page(request, token, enrolment, form, refusal=error.sentence)
    return redirect(f"{request.path}?{SAID}=kept")


@require_POST
@by_link
def place_confirm(request: HttpRequest, token: str) -> HttpResponse:
    enrolment = enrolment_by(token)
    try:
        joining.confirm(enrolment, now=timezone.now())
    except RefusedError as error:
        return _page(request, token, enrolment, RestForm(), refusal=error.sentence)
    return redirect("place", token)


@require_http_methods(["GET", "HEAD", "POST"])
@by_link
def place_give_back(request: HttpRequest, token: str) -> HttpResponse:
    """Ask whether it is meant; by POST give the place back, or leave the waiting list."""
    enrolment, refusal = enrolment_by(token), ""
    if request.method == "POST":
        try:
            joining.give_back(enrolment, now=timezone.now())
        except RefusedError as error:
            refusal = error.sentence
        else:
            return redirect("place", token)
    if enrolment.state not in COUNTED:
        return redirect("place", token)
    context = {"token": token, "enrolment": enrolment, "trip": enrolment.trip, "refusal": refusal}
    return render(request, "trips/place_give_back.html", context)


@require_POST
@by_link
def place_new_link(request: HttpRequest, token: str) -> HttpResponse:
    """Make this link useless and mail another one: whoever else has it is locked out."""
    enrolment = enrolment_by(token)
    joining.renew_link(enrolment, now=timezone.now())
    return render(request, "trips/place_new_link.html", {"trip": enrolment.trip})


@require_safe
@by_link
def place_export(request: HttpRequest, token: str) -> HttpResponse:  # noqa: ARG001
    """Give all that is kept of the person, to take away."""
    kept = kept_of(enrolment_by(token), at=timezone.now())
    options = {"ensure_ascii": False, "indent": 2}
    response = JsonResponse(kept, json_dumps_params=options)
    response.headers["Content-Disposition"] = 'attachment; filename="kept-of-me.json"'
    return response


@require_http_methods(["GET", "HEAD", "POST"])
@by_link
def place_forget(request: HttpRequest, token: str) -> HttpResponse:
    """Ask whether it is meant; by POST delete what is kept. The link then opens nothing."""
    enrolment, refusal = enrolment_by(token), ""
    trip = enrolment.trip
    if request.method == "POST":
        try:
            forget_on_request(enrolment, now=timezone.now())
        except RefusedError as error:
            refusal = error.sentence
        else:
            return render(request, "trips/place_forgotten.html", {"trip": trip})
    others = enrolment.person.enrolments.exclude(pk=enrolment.pk).exists()
    context = {"token": token, "enrolment": enrolment, "trip": trip, "refusal": refusal}
    return render(request, "trips/place_forget.html", context | {"stays_elsewhere": others})


def _page(
    request: HttpRequest, token: str, enrolment: Enrolment, form: RestForm, *, refusal: str = ""
) -> HttpResponse:
    now, trip = timezone.now(), enrolment.trip
    found = mistakes(form)
    context: dict[str, Any] = {
        "token": token,
        "own_address": address("place", token),
        "enrolment": enrolment,
        "trip": trip,
        "facts": told_of(trip, now=now),
        "stands": how_it_stands(enrolment),
        "number": places.number_in_queue(enrolment),
        "form": form,
        "groups": laid_out(form, REST_GROUPS),
        "mistakes": found,
        "refusal": refusal,
        "has_place": enrolment.state in COMING,
        "is_over": enrolment.state in OVER,
        "is_past": trip.status == Trip.Status.DONE,
        "may_leave": trip.status not in ENDED and enrolment.state in COUNTED,
        "may_give_back": places.may_give_back(trip, now=now),
        "briefs": published(enrolment) if enrolment.state in COMING else [],
        "calendar": calendars.address_of(calendars.link_of(trip, enrolment)),
        "was_kept": request.GET.get(SAID) == "kept",
    }
    return render(request, "trips/place.html", context)
