"""Adding and editing a spot with its skyline, landmarks and hazards; the second of two editors sees
what the first one stored."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trips.almanac.wording import SkyError, sentence
from trips.forms.layout import Mistake, laid_out, mistakes, without_judging
from trips.forms.meanwhile import NOBODY, OPENED, is_behind, met, read_opened, values_of, written
from trips.forms.spot import (
    NOTES,
    PLACE,
    LandmarkFormSet,
    SpotForm,
    SpotHazardFormSet,
    typed_position,
)
from trips.models import Landmark, Spot
from trips.services.editing import EditedMeanwhileError
from trips.services.spots import Changes, doubts, save_spot
from trips.views.form_rows import FormRows, as_typed, hazard_rows
from trips.views.kept_typing import typing_kept
from trips.views.members import member, site_of, spot_of
from trips.views.spot_pictures import drawing_board

ADD_ROW = {"landmarks": "add_landmark", "hazards": "add_hazard"}  # the names of buttons
LANDMARK = ("name", "azimuth_degrees", "top_degrees", "width_degrees", "face_degrees",
            "distance_m", "is_seen_at_night")  # fmt: skip


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def spot_add(request: HttpRequest, site_id: int) -> HttpResponse:
    site = site_of(request, site_id)
    spot = Spot(
        site=site,
        latitude=site.latitude,
        longitude=site.longitude,
        elevation_m=site.elevation_m,
    )
    return _Editing(request, spot, _("Add a spot")).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def spot_edit(request: HttpRequest, spot_id: int) -> HttpResponse:
    spot = spot_of(request, spot_id)
    heading = _("Edit %(spot)s") % {"spot": spot.name}
    try:
        return _Editing(request, spot, heading).answer()
    except EditedMeanwhileError:  # between reading and saving: look at it anew
        return spot_edit(request, spot_id)


class _Editing:
    """One showing of the form: as it is, with a row more, refused, or saved."""

    def __init__(self, request: HttpRequest, spot: Spot, heading: str) -> None:
        self.request, self.spot, self.heading = request, spot, heading
        self.is_new = spot.pk is None
        self.before = None if self.is_new else Spot.objects.select_related("site").get(pk=spot.pk)
        self.typed: QueryDict | None = request.POST if request.method == "POST" else None
        self.meanwhile = NOBODY
        self.said: dict[str, object] = {}
        if self.typed is not None and not self.is_new and is_behind(self.typed, spot):
            self._meet(self.typed)
        self._read()

    def _form(self, typed: QueryDict | None) -> SpotForm:
        form = SpotForm(typed, self.request.FILES if typed else None, instance=self.spot)
        if not self.is_new:
            seen = values_of(form)
            for rows in self._rows():
                seen |= rows.seen()
            form.fields[OPENED].initial = written(seen)
        return form

    def _read(self) -> None:
        self.form = self._form(self.typed)
        self.is_right = self.typed is not None and self.form.is_valid()  # before its rows are
        self.row_sets = {
            "landmarks": LandmarkFormSet(
                self.typed, instance=self.spot, form_kwargs={"spot": self.spot}
            ),
            "hazards": SpotHazardFormSet(self.typed, instance=self.spot),
        }

    def _rows(self) -> Iterator[FormRows]:
        if self.is_new:
            yield FormRows("landmarks", (*LANDMARK, "position"), {})
            yield hazard_rows([])
            return
        stored = {str(one.pk): _landmark_typed(one) for one in self.spot.landmarks.all()}
        yield FormRows("landmarks", (*LANDMARK, "position"), stored)
        yield hazard_rows(self.spot.hazards.all())

    def _meet(self, typed: QueryDict) -> None:
        """Take over what another editor saved and this one left alone."""
        opened = read_opened(typed.get(OPENED, ""))
        self.typed, self.meanwhile = met(self._form(typed), self._form(None))
        for rows in self._rows():
            merged = rows.merged(typed, opened)
            label = _row_kinds()[rows.prefix]
            self.meanwhile = self.meanwhile.with_rows(merged, label)
            self.typed = rows.taken_into(self.typed, merged)
            if merged.clashing:
                stored = getattr(self.spot, rows.prefix).all()
                self.said[f"stored_{rows.prefix}"] = [_row_words(row) for row in stored]

    def answer(self) -> HttpResponse:
        added = next((kind for kind, name in ADD_ROW.items() if name in (self.typed or ())), None)
        if self.typed is not None and added:
            self._add_row(self.typed, added)
        elif self._is_valid() and not self.meanwhile.is_clash and self._save():
            return redirect("spot_detail", self.spot.pk)
        return render(self.request, "trips/spot_form.html", self._context())

    def _is_valid(self) -> bool:
        # All are asked, so that every mistake is shown at once.
        return all([self.is_right, *(rows.is_valid() for rows in self.row_sets.values())])

    def _add_row(self, typed: QueryDict, kind: str) -> None:
        self.typed = next(rows for rows in self._rows() if rows.prefix == kind).with_another(typed)
        self._read()
        first = "name" if kind == "landmarks" else "kind"
        self.row_sets[kind].forms[-1].fields[first].widget.attrs["autofocus"] = True
        self.said |= {f"{kind}_added": True}
        without_judging(self.form)
        for rows in self.row_sets.values():
            rows._errors, rows._non_form_errors = [], rows.error_class()
            for row in rows.forms:
                without_judging(row)

    def _save(self) -> bool:
        landmarks, hazards = (_changes(rows) for rows in self.row_sets.values())
        try:
            save_spot(
                self.spot,
                landmarks=landmarks,
                hazards=hazards,
                by=member(self.request),
                now=timezone.now(),
            )
        except SkyError as error:
            self.form.add_error(None, sentence(error))
            return False
        except ValidationError as error:
            self.form.add_error(None, error)
            return False
        self._tell_saved()
        return True

    def _tell_saved(self) -> None:
        messages.success(self.request, _("%(spot)s is saved.") % {"spot": self.spot.name})
        if self.meanwhile.taken:
            messages.info(self.request, self.meanwhile.taken_over())
        for words in (*self.form.notices, *doubts(self.spot, self.before)):
            messages.warning(self.request, words)

    def _context(self) -> dict[str, Any]:
        told = [*self.meanwhile.told(self.form), *self._rows_told()]
        return self.said | {
            "form": self.form,
            "place": laid_out(self.form, [PLACE], self.meanwhile.stored)[0],
            "notes": laid_out(self.form, [NOTES], self.meanwhile.stored)[0],
            "stored_skyline": self.meanwhile.stored.get("skyline"),
            "stored_how": self.meanwhile.stored.get("skyline_how"),
            "landmarks": self.row_sets["landmarks"],
            "hazards": self.row_sets["hazards"],
            "landmarks_open": self._is_open("landmarks"),
            "hazards_open": self._is_open("hazards"),
            "mistakes": [*told, *mistakes(self.form), *self._row_mistakes()],
            "meanwhile": self.meanwhile,
            "heading": self.heading,
            "picture": drawing_board(self.before or self.spot, self._shown_points()),
            "site": self.spot.site,
            "spot": None if self.is_new else self.before,
        }

    def _shown_points(self) -> list[list[float]]:
        """Give the skyline as typed where it can be read, else as it is stored."""
        typed = getattr(self.form, "cleaned_data", {}).get("skyline")
        return typed if typed is not None else (self.before.skyline if self.before else [])

    def _is_open(self, kind: str) -> bool:
        rows = self.row_sets[kind]
        return bool(rows.initial_form_count()) or (
            self.typed is not None and any(row.has_changed() for row in rows)
        )

    def _rows_told(self) -> Iterator[Mistake]:
        words = _("what is stored now stands above the rows, yours in them")
        for kind, label in _row_kinds().items():
            if f"stored_{kind}" in self.said:
                yield Mistake(f"#{kind}", label, words)

    def _row_mistakes(self) -> Iterator[Mistake]:
        """Say which row it is: all of them have fields of the same names."""
        for kind, rows in self.row_sets.items():
            for number, row in enumerate(rows.forms, 1):
                for one in mistakes(row):
                    yield replace(one, label=_row_label(kind, number, one.label))


def _changes(rows: Any) -> Changes[Any]:
    return Changes(rows.save(commit=False), rows.deleted_objects)


def _landmark_typed(landmark: Landmark) -> dict[str, str]:
    return as_typed(landmark, LANDMARK) | {"position": typed_position(landmark)}


def _row_words(row: Any) -> str:
    if isinstance(row, Landmark):
        return f"{row.name}, {row.azimuth_degrees:.10g}°, {row.top_degrees:.10g}°"
    return str(row)


def _row_kinds() -> dict[str, str]:
    return {"landmarks": _("Landmarks"), "hazards": _("Hazards")}


def _row_label(kind: str, number: int, label: str) -> str:
    names = {"number": number, "field": label.lower()}
    if kind == "landmarks":
        return (
            _("Landmark %(number)d, %(field)s") % names
            if label
            else _("Landmark %(number)d") % names
        )
    return _("Hazard %(number)d, %(field)s") % names if label else _("Hazard %(number)d") % names
