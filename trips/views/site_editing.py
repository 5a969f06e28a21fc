"""Adding and editing a site: its position is echoed before it is saved, and the second of two
editors sees what the first one stored."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.db import transaction
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trips.almanac.places import describe_position
from trips.almanac.wording import SkyError, sentence
from trips.forms.layout import SITE_GROUPS, Mistake, laid_out, mistakes, without_judging
from trips.forms.meanwhile import NOBODY, OPENED, is_behind, met, read_opened, values_of, written
from trips.forms.site import HazardFormSet, SiteForm, position_mark
from trips.models import Hazard, Organisation, Site
from trips.services import positions
from trips.services.editing import EditedMeanwhileError
from trips.services.sites import asks_for_lead_time, save_site
from trips.views.form_rows import FormRows, hazard_rows
from trips.views.kept_typing import typing_kept
from trips.views.members import member, site_of

ADD_ROW, EXCHANGE = "add_hazard", "exchange"  # the names of buttons
POSITION = ("latitude", "longitude", "elevation_m", "zone")


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def site_add(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    return _Editing(request, Site(organisation=organisation), _("Add a site")).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def site_edit(request: HttpRequest, site_id: int) -> HttpResponse:
    site = site_of(request, site_id)
    heading = _("Edit %(site)s") % {"site": site.name}
    try:
        return _Editing(request, site, heading).answer()
    except EditedMeanwhileError:  # between reading and saving: look at it anew
        return site_edit(request, site_id)


class _Editing:
    """One showing of the form: as it is, with a row more, exchanged, refused, echoed, or saved."""

    def __init__(self, request: HttpRequest, site: Site, heading: str) -> None:
        self.request, self.site, self.heading = request, site, heading
        self.is_new, self.now = site.pk is None, timezone.now()
        self.typed: QueryDict | None = request.POST if request.method == "POST" else None
        self.meanwhile = NOBODY
        self.said: dict[str, object] = {}
        if self.typed is not None and EXCHANGE in self.typed:
            self.typed = _exchanged(self.typed)
        if self.typed is not None and not self.is_new and is_behind(self.typed, site):
            self._meet(self.typed)
        self._read()

    def _form(self, typed: QueryDict | None) -> SiteForm:
        form = SiteForm(typed, instance=self.site, now=self.now)
        if not self.is_new:
            seen = values_of(form) | self._rows().seen()
            form.fields[OPENED].initial = written(seen)
        return form

    def _read(self) -> None:
        self.form = self._form(self.typed)
        own = self._own_hazards()
        self.hazards = HazardFormSet(self.typed, instance=self.site, queryset=own)

    def _own_hazards(self) -> QuerySet[Hazard]:
        """Those of its spots are edited with them."""
        if self.is_new:
            return Hazard.objects.none()
        return self.site.hazards.filter(spot=None)

    def _rows(self) -> FormRows:
        return hazard_rows(self._own_hazards())

    def _meet(self, typed: QueryDict) -> None:
        """Take over what another editor saved and this one left alone."""
        rows = self._rows().merged(typed, read_opened(typed.get(OPENED, "")))
        data, self.meanwhile = met(self._form(typed), self._form(None))
        if any(name in self.meanwhile.taken for name in POSITION):
            data["seen"] = position_mark(self.site)  # the other editor has seen it
        self.meanwhile = self.meanwhile.with_rows(rows, _("Hazards"))
        self.typed = self._rows().taken_into(data, rows)
        if rows.clashing:
            self.said = {"stored_hazards": list(self._own_hazards())}

    def answer(self) -> HttpResponse:
        if self.typed is not None and ADD_ROW in self.typed:
            self._add_row(self.typed)
        elif self.typed is not None and self._is_valid() and not self.meanwhile.is_clash:
            if not self.form.is_seen:
                self._echo()
            elif self._save():
                return redirect("site_detail", self.site.pk)
        return render(self.request, "trips/site_form.html", self._context())

    def _is_valid(self) -> bool:
        # Both are asked, so that every mistake is shown at once.
        return all([self.form.is_valid(), self.hazards.is_valid()])

    def _add_row(self, typed: QueryDict) -> None:
        self.typed = self._rows().with_another(typed)
        self._read()
        self.hazards.forms[-1].fields["kind"].widget.attrs["autofocus"] = True
        self.said |= {"row_added": True}
        without_judging(self.form)
        self.hazards._errors, self.hazards._non_form_errors = [], self.hazards.error_class()
        for row in self.hazards.forms:
            without_judging(row)

    def _echo(self) -> None:
        """Give back the form as typed, with the zone filled in and the position marked as seen."""
        typed: Any = self.form.data.copy()  # type: ignore[attr-defined]  # a QueryDict
        typed["zone"], typed["seen"] = self.site.zone, position_mark(self.site)
        self.form.data = typed
        self.said = {
            "echo": describe_position(self.site.latitude, self.site.longitude),
            "doubts": positions.doubts(self.site),
            "may_exchange": abs(self.site.longitude) <= 90,
        }

    def _save(self) -> bool:
        try:
            # A site and its dangers are saved together or not at all.
            with transaction.atomic():
                save_site(self.site, by=member(self.request), now=self.now)
                self.hazards.save()
        except SkyError as error:
            self.form.add_error(None, sentence(error))
            return False
        self._tell_saved()
        return True

    def _tell_saved(self) -> None:
        messages.success(self.request, _("%(site)s is saved.") % {"site": self.site.name})
        if self.meanwhile.taken:
            messages.info(self.request, self.meanwhile.taken_over())
        if asks_for_lead_time(self.site):
            words = _(
                "A permit is needed, and neither its number nor how many days ahead it must be "
                "asked for is written down: find out before a date is fixed."
            )
            messages.warning(self.request, words)

    def _context(self) -> dict[str, Any]:
        told = [*self.meanwhile.told(self.form), *self._rows_told()]
        found = [*told, *mistakes(self.form), *self._row_mistakes()]
        return self.said | {
            "form": self.form,
            "groups": laid_out(self.form, SITE_GROUPS, self.meanwhile.stored),
            "hazards": self.hazards,
            "hazards_open": self._are_hazards_open(),
            "mistakes": found,
            "meanwhile": self.meanwhile,
            "heading": self.heading,
            "clock": self.now,
            "site": None if self.is_new else self.site,
            "organisation": self.site.organisation,
        }

    def _rows_told(self) -> list[Mistake]:
        words = _("what is stored now stands above the rows, yours in them")
        return [Mistake("#hazards", _("Hazards"), words)] if self.meanwhile.clashing_rows else []

    def _row_mistakes(self) -> list[Mistake]:
        """Say which row it is: all of them have fields of the same names."""
        return [
            replace(one, label=_row_label(number, one.label))
            for number, row in enumerate(self.hazards.forms, 1)
            for one in mistakes(row)
        ]

    def _are_hazards_open(self) -> bool:
        stored = self._own_hazards().exists()
        typed = self.typed is not None and any(row.has_changed() for row in self.hazards)
        return stored or typed


def _exchanged(typed: QueryDict) -> QueryDict:
    """Put each of the two angles in the place of the other; nothing is saved unseen."""
    data = typed.copy()
    data["latitude"], data["longitude"] = typed.get("longitude", ""), typed.get("latitude", "")
    data["seen"] = ""
    return data


def _row_label(number: int, label: str) -> str:
    names = {"number": number, "field": label.lower()}
    return _("Hazard %(number)d, %(field)s") % names if label else _("Hazard %(number)d") % names
