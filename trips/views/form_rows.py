"""Rows below a posted form (hazards, landmarks): one more on request, merged with those stored."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Model
from django.http import QueryDict

from trips.forms.fields import as_number
from trips.forms.layout import plain
from trips.models import Hazard
from trips.services.merging import Merge, merge

MOST_ROWS = 40
TAKEN_OFF = "DELETE"


@dataclass(frozen=True, slots=True)
class FormRows:
    """Rows of one kind: how their names begin, their fields, and those that are stored now: number
    of the row → its fields as a browser would send them."""

    prefix: str
    fields: tuple[str, ...]
    stored: Mapping[str, Mapping[str, str]]
    most: int = MOST_ROWS

    def with_another(self, data: QueryDict) -> QueryDict:
        """Give the form as typed with one more empty row."""
        more = data.copy()
        total = self._count(data, "TOTAL_FORMS")
        more[f"{self.prefix}-TOTAL_FORMS"] = str(min(total + 1, self.most))
        return more

    def seen(self) -> dict[str, str]:
        """Give the stored rows as text, to be compared with what is typed and what was opened."""
        return {self._name(pk): self._told(row) for pk, row in self.stored.items()}

    def merged(self, data: QueryDict, opened: Mapping[str, str] | None) -> Merge:
        """Compare the posted rows with the stored ones; one that is to be taken off is empty."""
        typed = {
            self._name(row["id"]): "" if row.get(TAKEN_OFF) else self._told(row)
            for row in self._rows(data)
            if row.get("id")
        }
        seen = opened and {
            name: told for name, told in opened.items() if name.startswith(f"{self.prefix}-")
        }
        return merge(seen, typed, self.seen())

    def taken_into(self, data: QueryDict, merged: Merge) -> QueryDict:
        """Give the form with the rows that are stored now, and those that are new or were changed.

        A row that was changed here and taken off by somebody else becomes a new one: nothing typed
        is lost. A formset numbers its stored rows before its new ones, so all are numbered anew.
        """
        typed = {row["id"]: row for row in self._rows(data) if row.get("id")}
        kept = []
        for pk, row in self.stored.items():
            stored = {**row, "id": pk}
            is_taken = self._name(pk) in merged.taken
            kept.append(stored if is_taken else typed.get(pk, stored))
        at_hand = {row["id"] for row in kept}
        gone = [
            row | {"id": ""}
            for pk, row in typed.items()
            if pk not in at_hand and self._name(pk) in merged.clashing and not row.get(TAKEN_OFF)
        ]
        # A new row like one that was saved meanwhile is that one: a button pressed twice.
        there = {
            self._told(row) for pk, row in self.stored.items() if self._name(pk) in merged.taken
        }
        new = [
            row for row in self._rows(data) if not row.get("id") and self._told(row) not in there
        ]
        return self._written(data, kept, gone + new)

    def _written(
        self, data: QueryDict, kept: list[dict[str, str]], new: list[dict[str, str]]
    ) -> QueryDict:
        anew = data.copy()
        for name in [name for name in anew if name.startswith(f"{self.prefix}-")]:
            del anew[name]
        for n, row in enumerate([*kept, *new]):
            for name, value in row.items():
                anew[f"{self.prefix}-{n}-{name}"] = value
        anew[f"{self.prefix}-INITIAL_FORMS"] = str(len(kept))
        anew[f"{self.prefix}-TOTAL_FORMS"] = str(len(kept) + len(new))
        return anew

    def _told(self, row: Mapping[str, str]) -> str:
        return ": ".join(_told(row.get(name, "")) for name in self.fields)

    def _name(self, pk: object) -> str:
        return f"{self.prefix}-{pk}"

    def _rows(self, data: QueryDict) -> list[dict[str, str]]:
        return [self._row(data, n) for n in range(self._count(data, "TOTAL_FORMS"))]

    def _row(self, data: QueryDict, n: int) -> dict[str, str]:
        names = ("id", *self.fields, TAKEN_OFF)
        return {
            name: str(data[f"{self.prefix}-{n}-{name}"])
            for name in names
            if f"{self.prefix}-{n}-{name}" in data
        }

    def _count(self, data: QueryDict, name: str) -> int:
        typed = data.get(f"{self.prefix}-{name}", "")
        is_number = typed.isascii() and typed.isdecimal() and len(typed) < 5
        return min(int(typed), self.most) if is_number else 0


def as_typed(row: Model, fields: Sequence[str]) -> dict[str, str]:
    """Give a stored row as a browser would send it: a box that is not ticked is not there."""
    values: dict[str, Any] = {name: getattr(row, name) for name in fields}
    return {
        name: "on" if value is True else plain(value)
        for name, value in values.items()
        if value is not False
    }


def hazard_rows(hazards: Iterable[Hazard]) -> FormRows:
    fields = ("kind", "text")
    return FormRows("hazards", fields, {str(row.pk): as_typed(row, fields) for row in hazards})


def _told(typed: str) -> str:
    """12,5 and 12.50 are one number, however they are written."""
    number = as_number(typed)
    return typed.strip() if number is None else plain(number)
