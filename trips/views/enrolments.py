"""What those who lead a trip do with its people; the list of people to take along."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trips.models import Enrolment, Letter
from trips.services import joining, letters
from trips.services.refusals import RefusedError
from trips.views.downloads import csv_file
from trips.views.members import enrolment_of, member, require_leader, trip_of
from trips.views.trip_people import waiting_of


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def enrolment_remove(request: HttpRequest, enrolment_id: int) -> HttpResponse:
    """Ask whether it is meant; by POST take the person off the trip."""
    enrolment = _led(request, enrolment_id)
    if request.method != "POST":
        context = {"enrolment": enrolment, "trip": enrolment.trip}
        return render(request, "trips/enrolment_remove.html", context)
    joining.remove(enrolment, by=member(request), now=timezone.now())
    _say(request, enrolment, _("%(name)s is taken off the trip, and a mail says so."))
    return redirect("trip_detail", enrolment.trip_id)


@require_POST
@login_required
def enrolment_no_show(request: HttpRequest, enrolment_id: int) -> HttpResponse:
    enrolment = _led(request, enrolment_id)
    by, now = member(request), timezone.now()
    return _done(request, enrolment, lambda: joining.mark_no_show(enrolment, by=by, now=now))


@require_POST
@login_required
def enrolment_came(request: HttpRequest, enrolment_id: int) -> HttpResponse:
    """Take back that somebody did not come."""
    enrolment = _led(request, enrolment_id)
    by, now = member(request), timezone.now()
    return _done(request, enrolment, lambda: joining.mark_came(enrolment, by=by, now=now))


@require_POST
@login_required
def enrolment_move_up(request: HttpRequest, enrolment_id: int) -> HttpResponse:
    """Let a waiting person pass the one before; the form says which number was seen."""
    enrolment = _led(request, enrolment_id)
    typed = request.POST.get("before", "")
    before = int(typed) if typed.isdecimal() else 0
    by, now = member(request), timezone.now()
    return _done(
        request, enrolment, lambda: joining.move_up(enrolment, before=before, by=by, now=now)
    )


@require_POST
@login_required
def enrolment_new_link(request: HttpRequest, enrolment_id: int) -> HttpResponse:
    """Make a person's link useless and mail another one."""
    enrolment = _led(request, enrolment_id)
    joining.renew_link(enrolment, by=member(request), now=timezone.now())
    _say(request, enrolment, _("The old link of %(name)s opens nothing; a new one is mailed."))
    return redirect("trip_detail", enrolment.trip_id)


@require_POST
@login_required
def letter_again(request: HttpRequest, letter_id: int) -> HttpResponse:
    """Try a letter again that was given up."""
    mine = Letter.objects.for_member(member(request)).select_related("trip__organisation")
    letter: Letter = get_object_or_404(mine, pk=letter_id)
    require_leader(request, letter.trip)
    letters.try_again(letter, now=timezone.now())
    return redirect("trip_detail", letter.trip_id)


@require_safe
@login_required
def trip_people_csv(request: HttpRequest, trip_id: int) -> HttpResponse:
    """Give who has a place and who waits. Notes on health leave the house in no file."""
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    enrolled = list(trip.enrolments.select_related("person"))
    numbers = {one.enrolment.pk: one.number for one in waiting_of(enrolled)}
    rows = sorted(
        (one for one in enrolled if one.place is not None or one.pk in numbers),
        key=lambda one: (one.place is None, one.place or numbers.get(one.pk, 0)),
    )
    table = [[one.place, numbers.get(one.pk), *_cells(one)] for one in rows]
    return csv_file([trip.name, "people"], ["place", "waiting", *_COLUMNS], table)


_COLUMNS = (
    "name", "state", "mail", "phone", "emergency_name", "emergency_phone", "experience", "units",
    "wish",
)  # fmt: skip


def _cells(enrolment: Enrolment) -> list[str]:
    person = enrolment.person
    return [
        person.name, enrolment.state, person.mail, person.phone, person.emergency_name,
        person.emergency_phone, person.experience, person.units, enrolment.wish,
    ]  # fmt: skip


def _led(request: HttpRequest, enrolment_id: int) -> Enrolment:
    enrolment = enrolment_of(request, enrolment_id)
    require_leader(request, enrolment.trip)
    return enrolment


def _done(request: HttpRequest, enrolment: Enrolment, deed: Callable[[], object]) -> HttpResponse:
    try:
        deed()
    except RefusedError as error:
        messages.warning(request, error.sentence)
    return redirect("trip_detail", enrolment.trip_id)


def _say(request: HttpRequest, enrolment: Enrolment, words: str) -> None:
    messages.success(request, words % {"name": enrolment.person.name})
