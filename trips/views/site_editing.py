"""Adding and editing a site: its position is echoed before it is saved, and the second of two
editors sees what the first one stored."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trips.almanac.places import describe_position
from trips.almanac.wording import SkyError, sentence
from trips.form_layout import (
    SITE_GROUPS,
    Meanwhile,
    laid_out,
    mistakes,
    told_second,
    without_judging,
)
from trips.forms import HazardFormSet, SiteForm, position_mark
from trips.models import Organisation, Site
from trips.services import positions
from trips.services.editing import EditedMeanwhileError
from trips.services.sites import save_site
from trips.views.hazard_rows import with_another_row, without_gone_rows
from trips.views.members import member, site_of

ADD_ROW = "add_hazard"  # the name of the button


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def site_add(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    return _Editing(request, Site(organisation=organisation), _("Add a site")).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def site_edit(request: HttpRequest, site_id: int) -> HttpResponse:
    site = site_of(request, site_id)
    heading = _("Edit %(site)s") % {"site": site.name}
    return _Editing(request, site, heading).answer()


class _Editing:
    """One showing of the form: as it is, with one more row, refused, echoed, or saved."""

    def __init__(self, request: HttpRequest, site: Site, heading: str) -> None:
        self.request, self.site, self.heading = request, site, heading
        self.is_new = site.pk is None
        self.typed: QueryDict | None = request.POST if request.method == "POST" else None
        self.meanwhile = Meanwhile()
        self.said: dict[str, object] = {}
        if self.typed is not None and self._is_behind(self.typed):
            self.typed = without_gone_rows(self.typed, site)
        self._read()

    def _is_behind(self, typed: QueryDict) -> bool:
        """Tell whether somebody saved the site after this form was opened."""
        return not self.is_new and typed.get("version", "") not in ("", str(self.site.version))

    def _read(self) -> None:
        self.form = SiteForm(self.typed, instance=self.site)
        self.hazards = HazardFormSet(self.typed, instance=self.site)

    def answer(self) -> HttpResponse:
        if self.typed is not None and ADD_ROW in self.typed:
            self._add_row(self.typed)
        elif self.typed is not None and self._is_valid():
            if not self.form.is_seen:
                self._echo()
            elif self._save():
                return redirect("site_detail", self.site.pk)
        return render(self.request, "trips/site_form.html", self._context())

    def _is_valid(self) -> bool:
        # Both are asked, so that every mistake is shown at once.
        return all([self.form.is_valid(), self.hazards.is_valid()])

    def _add_row(self, typed: QueryDict) -> None:
        self.typed = with_another_row(typed)
        self._read()
        self.hazards.forms[-1].fields["kind"].widget.attrs["autofocus"] = True
        self.said = {"row_added": True}
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
        }

    def _save(self) -> bool:
        if self.form.cleaned_data["version"] is not None:
            self.site.version = self.form.cleaned_data["version"]
        try:
            # A site and its dangers are saved together or not at all.
            with transaction.atomic():
                save_site(self.site, by=member(self.request), now=timezone.now())
                self.hazards.save()
        except EditedMeanwhileError:
            self._tell_the_second()
        except SkyError as error:
            self.form.add_error(None, sentence(error))
        else:
            messages.success(self.request, _("%(site)s is saved.") % {"site": self.site.name})
            return True
        return False

    def _tell_the_second(self) -> None:
        """Keep what was typed, show what is stored, and let the next save be a knowing one."""
        stored = Site.objects.get(pk=self.site.pk)
        self.meanwhile = Meanwhile.between(self.form, stored)
        typed: Any = self.form.data.copy()  # type: ignore[attr-defined]  # a QueryDict
        typed["version"] = str(stored.version)
        self.form.data = typed
        self.hazards = HazardFormSet(typed, instance=stored)
        self.form.add_error(None, told_second(stored))
        self.said = {"was_met": True, "stored_hazards": list(stored.hazards.all())}

    def _context(self) -> dict[str, Any]:
        return self.said | {
            "form": self.form,
            "groups": laid_out(self.form, SITE_GROUPS, self.meanwhile.stored),
            "hazards": self.hazards,
            "hazards_open": self._are_hazards_open(),
            "mistakes": [*mistakes(self.form), *self._row_mistakes()],
            "heading": self.heading,
            "clock": timezone.now(),
            "site": None if self.is_new else self.site,
            "organisation": self.site.organisation,
        }

    def _row_mistakes(self) -> list[Any]:
        return [one for row in self.hazards.forms for one in mistakes(row)]

    def _are_hazards_open(self) -> bool:
        stored = not self.is_new and self.site.hazards.exists()
        typed = self.typed is not None and any(row.has_changed() for row in self.hazards)
        return stored or typed
