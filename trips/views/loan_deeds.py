"""Loans on a trip's board: granted, refused, lent unasked; its gear as a table."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from trips.models import Enrolment, Loan, LoanItem, Trip
from trips.services.loans import lend, lend_all, refuse
from trips.services.refusals import RefusedError
from trips.templatetags.gear import kind_name, piece_title
from trips.views.board import board_of
from trips.views.downloads import csv_file
from trips.views.members import enrolment_of, member, require_leader, trip_of
from trips.views.my_gear_deeds import row_number
from trips.views.trip_gear import gear_rows


@require_POST
@login_required
def loan_grant(request: HttpRequest, loan_id: int) -> HttpResponse:
    loan = _loan_of(request, loan_id)
    by, now = member(request), timezone.now()
    return _done(
        request, loan.night.trip,
        lambda: lend(loan.item, loan.night, loan.enrolment, by=by, now=now),
    )  # fmt: skip


@require_POST
@login_required
def loan_refuse(request: HttpRequest, loan_id: int) -> HttpResponse:
    loan = _loan_of(request, loan_id)
    by, now = member(request), timezone.now()
    return _done(request, loan.night.trip, lambda: refuse(loan, by=by, now=now))


@require_POST
@login_required
def enrolment_lend(request: HttpRequest, enrolment_id: int) -> HttpResponse:
    """Lend a piece for every night of the trip on which it is free."""
    enrolment: Enrolment = enrolment_of(request, enrolment_id)
    require_leader(request, enrolment.trip)
    kit = LoanItem.objects.filter(organisation=enrolment.trip.organisation_id)
    item = get_object_or_404(kit, pk=row_number(request.POST.get("item", "")))
    by, now = member(request), timezone.now()
    return _done(request, enrolment.trip, lambda: lend_all(item, enrolment, by=by, now=now))


@require_POST
@login_required
def trip_lend(request: HttpRequest, trip_id: int) -> HttpResponse:
    """Lend any piece to anybody on the trip, short of it or not, for a night or all to come."""
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    return _done(request, trip, lambda: _lend_as_chosen(request, trip))


def _lend_as_chosen(request: HttpRequest, trip: Trip) -> None:
    chosen = {name: row_number(request.POST.get(name, "")) for name in ("item", "person", "night")}
    item = LoanItem.objects.filter(organisation=trip.organisation_id, pk=chosen["item"]).first()
    people = Enrolment.objects.filter(trip=trip).select_related("trip", "person")
    person = people.filter(pk=chosen["person"]).first()
    night = trip.nights.filter(pk=chosen["night"]).first()
    if item is None or person is None or (night is None and request.POST.get("night")):
        raise RefusedError(_("Choose a piece of the kit, who gets it, and for which evening."))
    by, now = member(request), timezone.now()
    if night is None:
        lend_all(item, person, by=by, now=now)
    else:
        lend(item, night, person, by=by, now=now)
    messages.success(request, _("%(item)s is lent to %(person)s.") % {
        "item": item.name, "person": person.person.name,
    })  # fmt: skip


@require_safe
@login_required
def trip_gear_csv(request: HttpRequest, trip_id: int) -> HttpResponse:
    trip = trip_of(request, trip_id)
    heading = [_("Who"), _("Brings"), _("Is short of"), _("Lent by the club"), _("Asks for")]
    rows = [
        [
            row.enrolment.person.name,
            "; ".join(map(piece_title, row.brings)),
            "; ".join(kind_name(one.kind) for one in row.lacks) if row.has_said else "",
            "; ".join(f"{one.evening}: {one.item.name}" for one in row.lent),
            "; ".join(f"{one.evening}: {one.item.name}" for one in row.asked),
        ]
        for row in gear_rows(board_of(request, trip))
    ]
    return csv_file([trip.name, _("gear")], heading, rows)


def _loan_of(request: HttpRequest, loan_id: int) -> Loan:
    mine = Loan.objects.for_member(member(request))
    related = ("item", "night__trip__organisation", "enrolment__trip", "enrolment__person")
    loan: Loan = get_object_or_404(mine.select_related(*related), pk=loan_id)
    require_leader(request, loan.night.trip)
    return loan


def _done(request: HttpRequest, trip: Trip, deed: Callable[[], object]) -> HttpResponse:
    """Do it and lead back to the gear of the board; what is refused is said there."""
    try:
        deed()
    except RefusedError as error:
        messages.warning(request, error.sentence)
    return redirect(f"{reverse('trip_detail', args=[trip.pk])}#gear")
