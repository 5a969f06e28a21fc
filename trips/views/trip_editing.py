"""Making a trip, from a run or by hand, and editing it; the second of two editors is told."""

from __future__ import annotations

import uuid
from datetime import date
from typing import Any

from django.contrib import messages
from django.db import IntegrityError
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trips.almanac.local_time import local
from trips.forms.layout import laid_out, mistakes
from trips.forms.meanwhile import NOBODY, Meanwhile, is_behind, met
from trips.forms.trip import TRIP_FIELDS, TRIP_GROUPS, TripForm
from trips.forms.trip_plan import PLAN_GROUP, PlanForm
from trips.models import Organisation, Trip
from trips.services.editing import EditedMeanwhileError
from trips.services.places import zone_of_trip
from trips.services.refusals import RefusedError
from trips.services.trips import make_trip, save_trip
from trips.views.kept_typing import typing_kept
from trips.views.members import member, require_leader, trip_of
from trips.views.trip_proposal import propose_trip


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def trip_add(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    typed = request.POST if request.method == "POST" else None
    proposed = propose_trip(organisation, request.GET)
    now = timezone.now()
    plan = PlanForm(typed, organisation=organisation, now=now, initial=proposed.plan)
    form = TripForm(
        typed,
        instance=Trip(organisation=organisation),
        initial=proposed.trip,
        today=now.date(),
        first_night=_first_typed(plan),
    )
    # Both are asked, so that every mistake is shown at once.
    if typed is not None and all([plan.is_valid(), form.is_valid()]):
        made = _made(request, organisation, plan, form)
        if made is not None:
            return redirect("trip_detail", made.pk)
    context = {
        "form": form,
        "plan": plan,
        "groups": laid_out(plan, [PLAN_GROUP]) + laid_out(form, TRIP_GROUPS),
        "mistakes": [*mistakes(plan), *mistakes(form)],
        "heading": _("Plan a trip"),
        "organisation": organisation,
        "spot_count": plan.fields["spot"].queryset.count(),  # type: ignore[attr-defined]
        "site_without_spot": proposed.site_without_spot,
    }
    return render(request, "trips/trip_form.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def trip_edit(request: HttpRequest, trip_id: int) -> HttpResponse:
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    first = trip.nights.values_list("date", flat=True).first()
    typed: QueryDict | None = request.POST if request.method == "POST" else None
    known: dict[str, Any] = {
        "first_night": first,
        "today": local(timezone.now(), zone_of_trip(trip)).date(),
    }
    form, meanwhile = TripForm(typed, instance=trip, **known), NOBODY
    if typed is not None and is_behind(typed, trip):
        data, meanwhile = met(form, TripForm(instance=trip, **known))
        form = TripForm(data, instance=trip, **known)
    try:
        if (
            typed is not None
            and form.is_valid()
            and not meanwhile.is_clash
            and _saved(request, form)
        ):
            _tell_saved(request, trip, meanwhile)
            return redirect("trip_detail", trip.pk)
    except EditedMeanwhileError:  # between reading and saving: look at it anew
        return trip_edit(request, trip_id)
    context = {
        "form": form,
        "groups": laid_out(form, TRIP_GROUPS, meanwhile.stored),
        "mistakes": [*meanwhile.told(form), *mistakes(form)],
        "meanwhile": meanwhile,
        "heading": _("Edit %(trip)s") % {"trip": trip.name},
        "trip": trip,
        "organisation": trip.organisation,
        "spot_count": 1,
    }
    return render(request, "trips/trip_form.html", context)


def _first_typed(plan: PlanForm) -> date | None:
    if not plan.is_bound or not plan.is_valid():
        return None
    first: date = plan.cleaned_data["first_night"]
    return first


def _made(
    request: HttpRequest, organisation: Organisation, plan: PlanForm, form: TripForm
) -> Trip | None:
    """Make the trip, or find the one that the same form made before; None: refused."""
    # The form's number comes from outside: in another organisation it is another trip's.
    uid = uuid.uuid5(plan.cleaned_data["uid"] or uuid.uuid4(), f"{organisation.uid}")
    before: Trip | None = Trip.objects.filter(organisation=organisation, uid=uid).first()
    if before is not None:
        return before
    shared = ("spot", "second_spot", "meeting_point", "until", "decision_clock", "decision_place")
    values = {name: form.cleaned_data[name] for name in TRIP_FIELDS}
    values |= {name: plan.cleaned_data[name] for name in shared}
    try:
        trip = make_trip(
            organisation, evenings=plan.evenings, season=plan.season_of_nights, by=member(request),
            now=timezone.now(), uid=uid, **values,
        )  # fmt: skip
    except RefusedError as error:
        form.add_error(None, error.sentence)
        return None
    except IntegrityError:  # the same form, pressed twice at once
        made: Trip = get_object_or_404(Trip, organisation=organisation, uid=uid)
        return made
    messages.success(
        request, _("%(trip)s is a draft: look at each night, then open it.") % {"trip": trip.name}
    )
    return trip


def _saved(request: HttpRequest, form: TripForm) -> bool:
    try:
        save_trip(form.instance, by=member(request), now=timezone.now())
    except RefusedError as error:
        form.add_error(None, error.sentence)
        return False
    return True


def _tell_saved(request: HttpRequest, trip: Trip, meanwhile: Meanwhile) -> None:
    messages.success(request, _("%(trip)s is saved.") % {"trip": trip.name})
    if meanwhile.taken:
        messages.info(request, meanwhile.taken_over())
