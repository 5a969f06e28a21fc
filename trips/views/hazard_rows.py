"""The rows of hazards in a posted site form: one more on request, none that is gone meanwhile."""

from __future__ import annotations

from typing import Any

from django.http import QueryDict

from trips.models import Site

PREFIX = "hazards"
MOST_ROWS = 40
FIELDS = ("id", "kind", "text", "DELETE")


def with_another_row(data: QueryDict) -> QueryDict:
    """Give the form as typed with one more empty row."""
    more = data.copy()
    total = _count(data, "TOTAL_FORMS")
    more[f"{PREFIX}-TOTAL_FORMS"] = str(min(total + 1, MOST_ROWS))
    return more


def without_gone_rows(data: QueryDict, site: Site) -> QueryDict:
    """Give the form as typed where rows that somebody took off meanwhile count as new ones.

    A formset numbers its stored rows before its new ones, so all are numbered anew.
    """
    rows = [_row(data, n) for n in range(_count(data, "TOTAL_FORMS"))]
    stored = {str(pk) for pk in site.hazards.values_list("pk", flat=True)}
    kept = [row for row in rows if row.get("id") in stored]
    new = [row | {"id": ""} for row in rows if row.get("id") not in stored]
    return _written(data, kept, new)


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


def _row(data: QueryDict, n: int) -> dict[str, Any]:
    names = [name for name in FIELDS if f"{PREFIX}-{n}-{name}" in data]
    return {name: data[f"{PREFIX}-{n}-{name}"] for name in names}


def _count(data: QueryDict, name: str) -> int:
    typed = data.get(f"{PREFIX}-{name}", "")
    is_number = typed.isascii() and typed.isdecimal() and len(typed) < 5
    return min(int(typed), MOST_ROWS) if is_number else 0
