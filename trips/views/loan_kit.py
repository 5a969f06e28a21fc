"""The club's loan kit: what there is, who has what on which evening; added, edited, archived."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trips.forms.gear import GearForm, kit_form
from trips.forms.layout import laid_out, mistakes
from trips.models import Loan, LoanItem, Organisation
from trips.planning.gear import KINDS, Lens, Piece
from trips.services.editing import EditedMeanwhileError
from trips.services.gear import piece_of
from trips.services.loans import archive_item, coming_loans, save_item
from trips.services.refusals import RefusedError
from trips.templatetags.gear import kind_name, lens_title, piece_words
from trips.views.archiving import archiving
from trips.views.kept_typing import typing_kept
from trips.views.members import by_organisation, coordinated, loan_item_of, member
from trips.views.versions import seen_version


@dataclass(frozen=True, slots=True)
class KitLine:
    """A piece with its figures in words, who is promised it, and how many ask for it."""

    item: LoanItem
    told: str
    promised: tuple[Loan, ...]
    asking: int


@require_safe
@login_required
def loan_kit(request: HttpRequest) -> HttpResponse:
    mine = LoanItem.objects.for_member(member(request)).select_related("organisation")
    current = list(mine.current())
    lines = _lines(current)
    context = {
        "groups": [
            (club, [lines[item.pk] for item in items])
            for club, items in by_organisation(request, current)
        ],
        "kinds": [(kind, kind_name(kind)) for kind in KINDS],
        "coordinated": coordinated(request, {one.organisation for one in current}),
        "archived": mine.exclude(archived_at=None),
    }
    return render(request, "trips/loan_kit.html", context)


def _lines(items: Sequence[LoanItem]) -> dict[int, KitLine]:
    loans = coming_loans(items, now=timezone.now())
    return {item.pk: _line(item, [one for one in loans if one.item_id == item.pk])
            for item in items}  # fmt: skip


def _line(item: LoanItem, loans: Sequence[Loan]) -> KitLine:
    piece = piece_of(item)
    promised = tuple(one for one in loans if one.is_granted)
    asking = {one.enrolment_id for one in loans if not one.is_granted and not one.refused_at}
    return KitLine(item, _told(piece) if piece else "", promised, len(asking))


def _told(piece: Piece) -> str:
    """A lens is told by what is written on it, whatever the club calls it."""
    written = lens_title(piece) if isinstance(piece, Lens) else ""
    return ", ".join(filter(None, [written, piece_words(piece)]))


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def loan_item_add(request: HttpRequest, organisation_id: int, kind: str) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    if kind not in KINDS:
        raise Http404
    return _edited(request, LoanItem(organisation=organisation, kind=kind))


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def loan_item_edit(request: HttpRequest, item_id: int) -> HttpResponse:
    item = loan_item_of(request, item_id)
    if item.kind not in KINDS:
        raise Http404
    return _edited(request, item)


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def loan_item_archive(request: HttpRequest, item_id: int) -> HttpResponse:
    item = loan_item_of(request, item_id)
    return archiving(
        request, item, lambda: archive_item(item, now=timezone.now()),
        organisation=item.organisation,
        template="trips/loan_item_archive.html", then=reverse("loan_kit"),
    )  # fmt: skip


def _edited(request: HttpRequest, item: LoanItem) -> HttpResponse:
    """Show the form as it is or refused, or save; what was typed is never lost."""
    typed = request.POST if request.method == "POST" else None
    form = kit_form(item.kind, typed, piece=piece_of(item), note=item.note)
    if typed is not None and form.is_valid() and _saved(request, item, form):
        messages.success(request, _("%(name)s is saved.") % {"name": item.name})
        return redirect("loan_kit")
    context: dict[str, Any] = {
        "item": item,
        "form": form,
        "groups": laid_out(form, form.groups()),
        "mistakes": mistakes(form),
        "kind": kind_name(item.kind),
    }
    return render(request, "trips/loan_item_form.html", context)


def _saved(request: HttpRequest, item: LoanItem, form: GearForm) -> bool:
    """Save; of two editors the second is told, and saving again puts theirs in its place."""
    now, piece = item.version, form.piece
    item.version, item.note = seen_version(request, item), form.cleaned_data["note"]
    try:
        if piece:
            save_item(item, piece)
    except EditedMeanwhileError as error:
        form.add_error(None, str(error))
        item.version = now
        return False
    except RefusedError as error:
        form.add_error("name", error.sentence)
        return False
    return True
