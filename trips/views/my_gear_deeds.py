"""What a person does to their gear, behind their own link: nothing changes but by POST."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from trips.forms.gear import GearForm, gear_form
from trips.forms.layout import laid_out, mistakes
from trips.forms.small_gear import SmallGearForm
from trips.models import Enrolment, LoanItem, OwnGear
from trips.planning.gear import KINDS
from trips.services.gear import (
    add_piece,
    change_piece,
    copy_gear,
    gear_before,
    keep_small,
    piece_of,
    remove_piece,
)
from trips.services.loans import ask, withdraw
from trips.services.refusals import RefusedError
from trips.templatetags.gear import kind_name
from trips.views.link_doors import by_link, enrolment_by
from trips.views.my_gear import SECTIONS, gear_page, is_elsewhere, place_of_piece, read_date
from trips.views.versions import MOST_DIGITS


@require_http_methods(["GET", "HEAD", "POST"])
@by_link
def my_gear_add(request: HttpRequest, token: str, kind: str) -> HttpResponse:
    enrolment = enrolment_by(token)
    if kind not in KINDS:
        raise Http404
    if is_elsewhere(enrolment):
        return redirect("place", token)
    typed = request.POST if request.method == "POST" else None
    form, refusal = gear_form(kind, typed), ""
    if typed is not None and form.is_valid() and form.piece:
        try:
            row = add_piece(enrolment, form.piece)
        except RefusedError as error:
            refusal = error.sentence
        else:
            return back(request, token, "added", at=place_of_piece(row.kind, row.pk))
    return _form_page(request, token, enrolment, form, refusal=refusal)


@require_http_methods(["GET", "HEAD", "POST"])
@by_link
def my_gear_change(request: HttpRequest, token: str, number: int) -> HttpResponse:
    enrolment = enrolment_by(token)
    if is_elsewhere(enrolment):
        return redirect("place", token)
    row = OwnGear.objects.filter(enrolment=enrolment, pk=number).first()
    if row is None and request.method == "POST":
        return back(request, token, "gone")
    row = row or get_object_or_404(OwnGear, enrolment=enrolment, pk=number)
    if row.kind not in KINDS:
        raise Http404
    typed = request.POST if request.method == "POST" else None
    form = gear_form(row.kind, typed, piece=piece_of(row))
    if typed is not None and form.is_valid() and form.piece:
        change_piece(row, form.piece)
        return back(request, token, "changed", at=place_of_piece(row.kind, row.pk))
    return _form_page(request, token, enrolment, form, row=row)


@require_POST
@by_link
def my_gear_remove(request: HttpRequest, token: str, number: int) -> HttpResponse:
    enrolment = enrolment_by(token)
    row = OwnGear.objects.filter(enrolment=enrolment, pk=number).first()
    if row is None or not remove_piece(enrolment, number):
        return back(request, token, "gone")
    return back(request, token, "removed", at=SECTIONS.get(row.kind, "small"))


@require_POST
@by_link
def my_gear_small(request: HttpRequest, token: str) -> HttpResponse:
    enrolment = enrolment_by(token)
    if is_elsewhere(enrolment):
        return redirect("place", token)
    form = SmallGearForm(request.POST, label_suffix="")
    if not form.is_valid():
        return gear_page(request, token, enrolment, small=form)
    keep_small(enrolment, form.wanted())
    return back(request, token, "kept", at="small")


@require_POST
@by_link
def my_gear_copy(request: HttpRequest, token: str) -> HttpResponse:
    enrolment = enrolment_by(token)
    before = gear_before(enrolment)
    if before is None or is_elsewhere(enrolment):
        return back(request, token, "")
    return back(request, token, "copied" if copy_gear(before, enrolment) else "")


@require_POST
@by_link
def my_gear_ask(request: HttpRequest, token: str) -> HttpResponse:
    """Ask for a piece of the kit for every night to come on which it is free."""
    enrolment = enrolment_by(token)
    if is_elsewhere(enrolment):
        return redirect("place", token)
    kit = LoanItem.objects.filter(organisation=enrolment.trip.organisation_id)
    item = kit.filter(pk=row_number(request.POST.get("item", ""))).first()
    if item is None:
        return back(request, token, "not_lent", at="lack")
    coming = enrolment.trip.nights.filter(ends_at__gt=timezone.now())
    try:
        ask(item, enrolment, coming)
    except RefusedError as error:
        return gear_page(request, token, enrolment, refusal=error.sentence)
    return back(request, token, "asked", at="lack")


@require_POST
@by_link
def my_gear_withdraw(request: HttpRequest, token: str, number: int) -> HttpResponse:
    withdraw(enrolment_by(token), number)
    return back(request, token, "withdrawn", at="lack")


def back(request: HttpRequest, token: str, said: str, *, at: str = "") -> HttpResponse:
    """Lead back to the page as it was asked, with what was done, and to the part where it was:
    a page of many lenses is long, and a thumb has found its place."""
    night = read_date(request.POST.get("night", ""))
    asked = {"night": night.isoformat() if night else "", "said": said, "at": at}
    query = urlencode({name: value for name, value in asked.items() if value})
    address = reverse("my_gear", args=[token])
    if query:
        address += f"?{query}"
    return redirect(f"{address}#{at}" if at else address)


def _form_page(
    request: HttpRequest, token: str, enrolment: Enrolment, form: GearForm,
    *, row: OwnGear | None = None, refusal: str = "",
) -> HttpResponse:  # fmt: skip
    context: dict[str, Any] = {
        "token": token,
        "trip": enrolment.trip,
        "form": form,
        "groups": laid_out(form, form.groups()),
        "mistakes": mistakes(form),
        "refusal": refusal,
        "kind": kind_name(form.kind),
        "row": row,
        "night": request.POST.get("night") or request.GET.get("night", ""),
    }
    return render(request, "trips/my_gear_piece.html", context)


def row_number(text: str) -> int:
    """Read a row's number; 0, which no row has, for what is none."""
    is_number = text.isascii() and text.isdecimal() and len(text) <= MOST_DIGITS
    return int(text) if is_number else 0
