"""Adding, editing and taking off a night of a trip, with its tides."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trips.almanac.local_time import local
from trips.forms.layout import Mistake, laid_out, mistakes, plain
from trips.forms.meanwhile import NOBODY, OPENED, is_behind, met, read_opened, values_of, written
from trips.forms.trip_night import NIGHT_GROUPS, NightForm, TideFormSet
from trips.models import TideTime, TripNight
from trips.planning.trip_steps import GONE_BY
from trips.services.editing import EditedMeanwhileError
from trips.services.night_proposals import next_night
from trips.services.refusals import RefusedError
from trips.services.tides import is_coast, spring_words
from trips.services.trip_nights import remove_night, save_night
from trips.views.form_rows import FormRows
from trips.views.kept_typing import typing_kept
from trips.views.members import member, require_leader, trip_night_of, trip_of

USUAL_TIDES = [{"kind": TideTime.Kind.HIGH}, {"kind": TideTime.Kind.LOW}]


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def trip_night_add(request: HttpRequest, trip_id: int) -> HttpResponse:
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    try:
        night = next_night(trip)
    except RefusedError as error:
        messages.warning(request, error.sentence)
        return redirect("trip_detail", trip.pk)
    return _Editing(request, night).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def trip_night_edit(request: HttpRequest, night_id: int) -> HttpResponse:
    night = trip_night_of(request, night_id)
    require_leader(request, night.trip)
    try:
        return _Editing(request, night).answer()
    except EditedMeanwhileError:  # between reading and saving: look at it anew
        return trip_night_edit(request, night_id)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def trip_night_remove(request: HttpRequest, night_id: int) -> HttpResponse:
    night = trip_night_of(request, night_id)
    require_leader(request, night.trip)
    if request.method != "POST":
        return render(request, "trips/trip_night_remove.html", {"night": night})
    day = date_format(night.date, "l j F Y")
    try:
        remove_night(night, by=member(request), now=timezone.now())
    except RefusedError as error:
        messages.warning(request, error.sentence)
    else:
        messages.success(request, _("%(night)s is taken off the trip.") % {"night": day})
    return redirect("trip_detail", night.trip_id)


class _Editing:
    """One showing of the form: as it is, met with another editor, refused, or saved."""

    def __init__(self, request: HttpRequest, night: TripNight) -> None:
        self.request, self.night, self.is_new = request, night, night.pk is None
        # Of the night as it is stored, before what was typed is written into it.
        self.spring = spring_words(night) if is_coast(night) else ""
        self.typed: QueryDict | None = request.POST if request.method == "POST" else None
        self.meanwhile = NOBODY
        if self.typed is not None and not self.is_new and is_behind(self.typed, night):
            self._meet(self.typed)
        self.form = self._form(self.typed)
        self.tides = TideFormSet(
            self.typed,
            instance=night,
            initial=USUAL_TIDES,
            form_kwargs={"evening": self.form.evening, "zone": self.form.zone},
        )

    def _form(self, typed: QueryDict | None) -> NightForm:
        form = NightForm(typed, instance=self.night)
        if not self.is_new:
            form.fields[OPENED].initial = written(values_of(form) | self._rows().seen())
        return form

    def _rows(self) -> FormRows:
        """Give the stored tides as a browser would send them."""
        zone = self.night.spot.site.zone
        rows = {
            str(tide.pk): {
                "kind": tide.kind,
                "at": f"{local(tide.at, zone):%H:%M}",
                "height_m": plain(tide.height_m),
            }
            for tide in self.night.tides.all()
        }
        return FormRows("tides", ("kind", "at", "height_m"), rows)

    def _meet(self, typed: QueryDict) -> None:
        """Take over what another editor saved and this one left alone."""
        rows = self._rows().merged(typed, read_opened(typed.get(OPENED, "")))
        data, self.meanwhile = met(self._form(typed), self._form(None))
        self.meanwhile = self.meanwhile.with_rows(rows, _("Tides"))
        self.typed = self._rows().taken_into(data, rows)

    def answer(self) -> HttpResponse:
        # Both are asked, so that every mistake is shown at once.
        is_valid = self.typed is not None and all([self.form.is_valid(), self.tides.is_valid()])
        if is_valid and not self.meanwhile.is_clash and self._save():
            return redirect("trip_detail", self.night.trip_id)
        return render(self.request, "trips/trip_night_form.html", self._context())

    def _save(self) -> bool:
        try:
            # A night and its tides are saved together or not at all.
            with transaction.atomic():
                read = self.tides.has_changed()
                save_night(self.night, by=member(self.request), now=timezone.now(), read_tides=read)
                self.tides.save()
        except RefusedError as error:
            self.form.add_error(None, error.sentence)
            return False
        told = {"night": date_format(self.night.date, "l j F Y")}
        messages.success(self.request, self._saved_words() % told)
        if self.meanwhile.taken:
            messages.info(self.request, self.meanwhile.taken_over())
        return True

    def _saved_words(self) -> str:
        if self._tells_people():
            return _(
                "%(night)s is saved. Who comes is mailed if evening, hour, meeting point or spot "
                "are other ones; the rest they read when its brief is published."
            )
        return _("%(night)s is saved.")

    def _tells_people(self) -> bool:
        """Tell whether somebody goes by what is changed here."""
        trip = self.night.trip
        return trip.status in GONE_BY and trip.enrolments.with_a_place().exists()

    def _context(self) -> dict[str, Any]:
        told = [*self.meanwhile.told(self.form), *self._rows_told()]
        heading = (
            _("Add a night")
            if self.is_new
            else _("Edit %(night)s") % {"night": date_format(self.night.date, "l j F Y")}
        )
        return {
            "form": self.form,
            "groups": laid_out(self.form, NIGHT_GROUPS, self.meanwhile.stored),
            "tides": self.tides,
            "stored_tides": self._stored_tides(),
            "tides_open": self._are_tides_open(),
            "spring": self.spring,
            "mistakes": [*told, *mistakes(self.form), *self._row_mistakes()],
            "meanwhile": self.meanwhile,
            "heading": heading,
            "trip": self.night.trip,
            "night": None if self.is_new else self.night,
            "zone": self.form.zone,
            "tells_people": self._tells_people(),
        }

    def _are_tides_open(self) -> bool:
        typed = self.tides.is_bound and (self.tides.has_changed() or not self.tides.is_valid())
        stored = not self.is_new and self.night.tides.exists()
        return is_coast(self.night) or stored or typed

    def _stored_tides(self) -> list[dict[str, str]] | None:
        return list(self._rows().stored.values()) if self.meanwhile.clashing_rows else None  # type: ignore[arg-type]

    def _rows_told(self) -> list[Mistake]:
        words = _("what is stored now stands above the rows, yours in them")
        return [Mistake("#tides", _("Tides"), words)] if self.meanwhile.clashing_rows else []

    def _row_mistakes(self) -> list[Mistake]:
        """Say which row it is: all of them have fields of the same names."""
        label = _("Tide %(number)d, %(field)s")
        whole = [Mistake("#tides", _("Tides"), str(said)) for said in self.tides.non_form_errors()]
        return whole + [
            replace(one, label=label % {"number": number, "field": one.label.lower()})
            for number, row in enumerate(self.tides.forms, 1)
            for one in mistakes(row)
        ]
