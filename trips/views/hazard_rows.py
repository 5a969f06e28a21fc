"""The rows of hazards in a posted site form: one more on request, merged with those stored now."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import QueryDict

from trips.models import Site
from trips.services.merging import Merge, merge

PREFIX = "hazards"
MOST_ROWS = 40
FIELDS = ("id", "kind", "text", "DELETE")


def with_another_row(data: QueryDict) -> QueryDict:
    """Give the form as typed with one more empty row."""
    more = data.copy()
    total = _count(data, "TOTAL_FORMS")
    more[f"{PREFIX}-TOTAL_FORMS"] = str(min(total + 1, MOST_ROWS))
    return more


def hazards_seen(site: Site) -> dict[str, str]:
    """Give the stored rows as text, to be compared with what is typed and what was opened."""
    return {_name(row.pk): _told(row.kind, row.text) for row in site.hazards.all()}


def rows_merged(data: QueryDict, site: Site, opened: Mapping[str, str] | None) -> Merge:
    """Compare the posted rows with the stored ones; a row that is to be taken off is empty."""
    typed = {
        _name(row["id"]): "" if row.get("DELETE") else _told(row.get("kind"), row.get("text"))
        for row in _rows(data)
        if row.get("id")
    }
    seen = opened and {name: told for name, told in opened.items() if name.startswith(PREFIX)}
    return merge(seen, typed, hazards_seen(site))


def rows_taken_into(data: QueryDict, site: Site, merged: Merge) -> QueryDict:
    """Give the form with the rows that are stored now, and those that are new or were changed.

    A row that was changed here and taken off by somebody else becomes a new one: nothing typed is
    lost. A formset numbers its stored rows before its new ones, so all are numbered anew.
    """
    typed = {row["id"]: row for row in _rows(data) if row.get("id")}
    kept = []
    for hazard in site.hazards.all():
        stored = {"id": str(hazard.pk), "kind": hazard.kind, "text": hazard.text}
        is_taken = _name(hazard.pk) in merged.taken
        kept.append(stored if is_taken else typed.get(str(hazard.pk), stored))
    at_hand = {row["id"] for row in kept}
    gone = [
        row | {"id": ""}
        for pk, row in typed.items()
        if pk not in at_hand and _name(pk) in merged.clashing and not row.get("DELETE")
    ]
    return _written(data, kept, gone + [row for row in _rows(data) if not row.get("id")])


def _written(data: QueryDict, kept: list[dict[str, Any]], new: list[dict[str, Any]]) -> QueryDict:
    anew = data.copy()
    for name in [name for name in anew if name.startswith(f"{PREFIX}-")]:
        del anew[name]
    for n, row in enumerate([*kept, *new]):
        for name, value in row.items():
            anew[f"{PREFIX}-{n}-{name}"] = value
    anew[f"{PREFIX}-INITIAL_FORMS"] = str(len(kept))
    anew[f"{PREFIX}-TOTAL_FORMS"] = str(len(kept) + len(new))
    return anew


def _name(pk: object) -> str:
    return f"{PREFIX}-{pk}"


def _told(kind: object, text: object) -> str:
    return f"{kind}: {str(text).strip()}"


def _rows(data: QueryDict) -> list[dict[str, Any]]:
    return [_row(data, n) for n in range(_count(data, "TOTAL_FORMS"))]


def _row(data: QueryDict, n: int) -> dict[str, Any]:
    names = [name for name in FIELDS if f"{PREFIX}-{n}-{name}" in data]
    return {name: data[f"{PREFIX}-{n}-{name}"] for name in names}


def _count(data: QueryDict, name: str) -> int:
    typed = data.get(f"{PREFIX}-{name}", "")
    is_number = typed.isascii() and typed.isdecimal() and len(typed) < 5
    return min(int(typed), MOST_ROWS) if is_number else 0
