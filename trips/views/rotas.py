"""Turns of a night: shared out by a form, then given, exchanged, shared again or put away."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST

from trips.forms.layout import laid_out, mistakes
from trips.forms.rota import ROTA_GROUPS, RotaForm
from trips.models import Rota, Turn
from trips.services.refusals import RefusedError
from trips.services.rotas import (
    exchange,
    give_free,
    propose_rota,
    remove_rota,
    save_rota,
    share_again,
)
from trips.views.kept_typing import typing_kept
from trips.views.members import member, require_leader, trip_night_of

Deed = Callable[[HttpRequest, Rota], str]


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def rota_add(request: HttpRequest, night_id: int) -> HttpResponse:
    night = trip_night_of(request, night_id)
    require_leader(request, night.trip)
    rota = propose_rota(night)
    form = RotaForm(request.POST if request.method == "POST" else None, instance=rota)
    if form.is_valid():
        try:
            save_rota(rota, by=member(request), now=timezone.now())
        except RefusedError as error:
            form.add_error(None, error.sentence)
        else:
            messages.success(request, _("The turns are shared out."))
            return redirect(_on_the_board(rota))
    context = {
        "form": form,
        "groups": laid_out(form, ROTA_GROUPS),
        "mistakes": mistakes(form),
        "night": night,
        "trip": night.trip,
        "zone": night.spot.site.zone,
    }
    return render(request, "trips/rota_form.html", context)


@require_POST
@login_required
def rota_change(request: HttpRequest, rota_id: int) -> HttpResponse:
    """Do to a rota what the pressed button says."""
    rota = _rota_of(request, rota_id)
    deed = next((DEEDS[name] for name in DEEDS if name in request.POST), None)
    if deed is None:
        raise Http404
    try:
        messages.success(request, deed(request, rota))
    except RefusedError as error:
        messages.warning(request, error.sentence)
    return redirect(_on_the_board(rota))


def _again(request: HttpRequest, rota: Rota) -> str:
    share_again(rota, by=member(request), now=timezone.now())
    return _("The turns are shared out anew: tell people.")


def _give(request: HttpRequest, rota: Rota) -> str:
    left = give_free(rota, by=member(request), now=timezone.now())
    if not left:
        return _("Everybody has a turn.")
    words = ngettext(
        "%(left)d person still has no turn: share out anew.",
        "%(left)d people still have no turn: share out anew.",
        left,
    )
    return words % {"left": left}


def _exchange(request: HttpRequest, rota: Rota) -> str:
    first, second = (_turn(request, rota, name) for name in ("first", "second"))
    exchange(first, second)
    words = _("%(first)s and %(second)s have exchanged their turns: tell both.")
    return words % {"first": first.enrolment.person, "second": second.enrolment.person}


def _remove(request: HttpRequest, rota: Rota) -> str:
    remove_rota(rota, by=member(request), now=timezone.now())
    return _("The turns are put away.")


DEEDS: dict[str, Deed] = {
    "again": _again,
    "give": _give,
    "exchange": _exchange,
    "remove": _remove,
}


def _rota_of(request: HttpRequest, rota_id: int) -> Rota:
    mine = Rota.objects.for_member(member(request))
    rota: Rota = get_object_or_404(
        mine.select_related("night__trip__organisation", "night__spot__site"), pk=rota_id
    )
    require_leader(request, rota.night.trip)
    return rota


def _turn(request: HttpRequest, rota: Rota, name: str) -> Turn:
    typed = request.POST.get(name, "")
    if not typed.isdecimal():
        raise RefusedError(_("Choose the two people who exchange their turns."))
    turn: Turn | None = rota.turns.select_related("enrolment__person").filter(pk=int(typed)).first()
    if turn is None:
        raise RefusedError(_("These turns have changed meanwhile: look at them, then choose anew."))
    return turn


def _on_the_board(rota: Rota) -> str:
    return f"{reverse('trip_detail', args=[rota.night.trip_id])}#turns"
