"""Adding and editing a list of targets; of two editors, the second sees what the first stored."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trips.almanac.targets import names_to_type
from trips.forms.layout import Mistake, laid_out, mistakes, without_judging
from trips.forms.meanwhile import NOBODY, OPENED, is_behind, met, read_opened, values_of, written
from trips.forms.target_list import (
    LIST_GROUPS,
    ROW,
    TargetEntryForm,
    TargetEntryFormSet,
    TargetListForm,
    entry_typed,
)
from trips.models import Organisation, TargetEntry, TargetList
from trips.services.editing import EditedMeanwhileError
from trips.services.target_lists import MOST_ENTRIES, save_list
from trips.services.target_tables import entries_from_table
from trips.views.form_rows import FormRows, as_typed
from trips.views.kept_typing import typing_kept
from trips.views.members import member, target_list_of

PREFIX, ADD_ROW = "entries", "add_entry"


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def target_list_add(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    new = TargetList(organisation=organisation)
    return _Editing(request, new, _("Add a list of targets")).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def target_list_edit(request: HttpRequest, list_id: int) -> HttpResponse:
    target_list = target_list_of(request, list_id)
    heading = _("Edit %(list)s") % {"list": target_list.name}
    try:
        return _Editing(request, target_list, heading).answer()
    except EditedMeanwhileError:  # between reading and saving: look at it anew
        return target_list_edit(request, list_id)


class _Editing:
    """One showing of the form: as it is, with a row more, refused, or saved."""

    def __init__(self, request: HttpRequest, target_list: TargetList, heading: str) -> None:
        self.request, self.list, self.heading = request, target_list, heading
        self.is_new = target_list.pk is None
        self.typed: QueryDict | None = request.POST if request.method == "POST" else None
        self.meanwhile = NOBODY
        self.said: dict[str, object] = {}
        if self.typed is not None and not self.is_new and is_behind(self.typed, target_list):
            self._meet(self.typed)
        self._read()

    def _form(self, typed: QueryDict | None) -> TargetListForm:
        files = self.request.FILES if typed is not None else None
        form = TargetListForm(typed, files, instance=self.list)
        if not self.is_new:
            form.fields[OPENED].initial = written(values_of(form) | self._rows().seen())
        return form

    def _read(self) -> None:
        self.form = self._form(self.typed)
        self.entries = TargetEntryFormSet(self.typed, instance=self.list, prefix=PREFIX)

    def _rows(self) -> FormRows:
        stored = {} if self.is_new else {str(one.pk): _typed(one) for one in self._stored()}
        return FormRows(PREFIX, ROW, stored, MOST_ENTRIES)

    def _stored(self) -> list[TargetEntry]:
        return list(self.list.entries.all())

    def _meet(self, typed: QueryDict) -> None:
        """Take over what another editor saved and this one left alone."""
        rows = self._rows()
        merged = rows.merged(typed, read_opened(typed.get(OPENED, "")))
        data, self.meanwhile = met(self._form(typed), self._form(None))
        self.meanwhile = self.meanwhile.with_rows(merged, _("Targets"))
        self.typed = rows.taken_into(data, merged)
        if merged.clashing:
            self.said = {"stored_entries": self._stored()}

    def answer(self) -> HttpResponse:
        if self.typed is not None and ADD_ROW in self.typed:
            self._add_row(self.typed)
        elif self._is_valid() and not self.meanwhile.is_clash and self._save():
            return redirect("target_list", self.list.pk)
        return render(self.request, "trips/target_list_form.html", self._context())

    def _is_valid(self) -> bool:
        if self.typed is None:
            return False
        # Both are asked, so that every mistake is shown at once; a table replaces the rows.
        return all([self.form.is_valid(), self._has_table() or self.entries.is_valid()])

    def _has_table(self) -> bool:
        return "table" in self.request.FILES

    def _add_row(self, typed: QueryDict) -> None:
        self.typed = self._rows().with_another(typed)
        self._read()
        self.entries.forms[-1].fields["target"].widget.attrs["autofocus"] = True
        without_judging(self.form)
        self.entries._errors, self.entries._non_form_errors = [], self.entries.error_class()
        for row in self.entries.forms:
            without_judging(row)

    def _save(self) -> bool:
        try:
            save_list(self.list, self._wanted(), by=member(self.request), now=timezone.now())
        except ValidationError as error:
            self.form.add_error("table" if self._has_table() else None, error)
            return False
        messages.success(self.request, _("%(list)s is saved.") % {"list": self.list.name})
        if self.meanwhile.taken:
            messages.info(self.request, self.meanwhile.taken_over())
        return True

    def _wanted(self) -> list[TargetEntry]:
        """Give the entries of the table, else those of the rows that say something."""
        if self._has_table():
            return entries_from_table(self.form.cleaned_data["table"].read())
        gone = self.entries.deleted_forms
        rows = [
            row
            for row in self.entries.forms
            if row not in gone and (row.instance.pk or row.has_changed())
        ]
        return [row.instance for row in sorted(rows, key=TargetEntryForm.wanted_place)]

    def _context(self) -> dict[str, Any]:
        told = [*self.meanwhile.told(self.form), *self._rows_told()]
        return self.said | {
            "form": self.form,
            "groups": laid_out(self.form, LIST_GROUPS, self.meanwhile.stored),
            "entries": self.entries,
            "names": names_to_type(),
            "mistakes": [*told, *mistakes(self.form), *self._row_mistakes()],
            "meanwhile": self.meanwhile,
            "heading": self.heading,
            "list": None if self.is_new else TargetList.objects.get(pk=self.list.pk),
            "organisation": self.list.organisation,
        }

    def _rows_told(self) -> Iterator[Mistake]:
        if self.meanwhile.clashing_rows:
            words = _("what is stored now stands above the rows, yours in them")
            yield Mistake("#entries", _("Targets"), words)

    def _row_mistakes(self) -> Iterator[Mistake]:
        """Say which row it is: all of them have fields of the same names."""
        if self._has_table():
            return
        for number, row in enumerate(self.entries.forms, 1):
            for one in mistakes(row):
                names = {"number": number, "field": one.label.lower()}
                label = _("Target %(number)d, %(field)s") if one.label else _("Target %(number)d")
                yield replace(one, label=label % names)


def _typed(entry: TargetEntry) -> dict[str, str]:
    stored = tuple(TargetEntryForm.Meta.fields)
    return as_typed(entry, stored) | entry_typed(entry)
