"""What is done with one night of a trip: decided, closed, opened again, written down."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from trips.forms.layout import laid_out, mistakes
from trips.forms.night_log import LOG, NightLogForm
from trips.models import TripNight
from trips.services.closing import close_night, reopen_night
from trips.services.editing import EditedMeanwhileError
from trips.services.go_no_go import decide
from trips.services.night_logs import came_to, readings_of, save_log
from trips.services.night_times import spot_decided
from trips.services.refusals import RefusedError
from trips.services.who_is_out import heads_of
from trips.views.kept_typing import typing_kept
from trips.views.members import member, require_leader, trip_night_of

ALL_THE_SAME = "all_the_same"  # the name of a button


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def trip_night_close(request: HttpRequest, night_id: int) -> HttpResponse:
    """Say that all are back. A coordinator can too, who has heard it from the contact at home."""
    night = _led(request, night_id)
    if request.method != "POST":
        context = {
            "night": night,
            "trip": night.trip,
            "heads": heads_of(night),
            "has_begun": night.meeting_at <= timezone.now(),
        }
        return render(request, "trips/trip_night_close.html", context)
    insists = ALL_THE_SAME in request.POST
    try:
        close_night(night, by=member(request), now=timezone.now(), despite_open_ticks=insists)
    except RefusedError as error:
        messages.warning(request, error.sentence)
        return redirect("trip_night_close", night.pk)
    messages.success(request, _("The night is closed: all are back, and nobody is called out."))
    return _back(night)


@require_POST
@login_required
def trip_night_reopen(request: HttpRequest, night_id: int) -> HttpResponse:
    night = _led(request, night_id)
    reopen_night(night, by=member(request), now=timezone.now())
    messages.warning(request, _("The night is open again: the call-out is watched."))
    return _back(night)


@require_POST
@login_required
def trip_night_decide(request: HttpRequest, night_id: int) -> HttpResponse:
    night = _led(request, night_id)
    decision = request.POST.get("decision", "?")
    try:
        decide(night, decision, by=member(request), now=timezone.now())
    except RefusedError as error:
        messages.warning(request, error.sentence)
    else:
        messages.success(
            request,
            _("Decided. Who comes is written to. Publish the brief anew, so that it says so too."),
        )
    return _back(night)


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def trip_night_log(request: HttpRequest, night_id: int) -> HttpResponse:
    night = _led(request, night_id)
    form = _log_form(request, night)
    if form.is_valid():
        try:
            save_log(night, by=member(request), now=timezone.now())
        except RefusedError as error:
            form.add_error(None, error.sentence)
        except EditedMeanwhileError as error:
            form = _with_version(request.POST, night)
            form.add_error(None, str(error))
        else:
            messages.success(request, _("The log of the night is saved."))
            return _back(night)
    context = {
        "night": night,
        "trip": night.trip,
        "site": spot_decided(night).site,
        "form": form,
        "groups": laid_out(form, [LOG]),
        "mistakes": mistakes(form),
        "readings": readings_of(night),
        "heads": heads_of(night),
    }
    return render(request, "trips/trip_night_log.html", context)


def _led(request: HttpRequest, night_id: int) -> TripNight:
    night = trip_night_of(request, night_id)
    require_leader(request, night.trip)
    return night


def _log_form(request: HttpRequest, night: TripNight) -> NightLogForm:
    """What the head count knows stands in a form that nobody has filled in yet."""
    if request.method == "POST":
        typed = request.POST.get("version", "")
        if typed.isascii() and typed.isdecimal():
            night.version = int(typed[:9])
        return NightLogForm(request.POST, instance=night)
    counted = {} if night.logged_at else {"came": came_to(night)}
    return NightLogForm(instance=night, initial=counted)


def _with_version(typed: QueryDict, night: TripNight) -> NightLogForm:
    """Give what was typed with the row as it is now: the next save is a knowing one."""
    data = typed.copy()
    data["version"] = str(TripNight.objects.values_list("version", flat=True).get(pk=night.pk))
    form = NightLogForm(data, instance=night)
    form.is_valid()
    return form


def _back(night: TripNight) -> HttpResponseRedirect:
    return HttpResponseRedirect(reverse("trip_detail", args=[night.trip_id]) + "#safety")
