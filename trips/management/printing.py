"""Records as a table for people, as JSON or as CSV: whole texts, so that one write prints all."""

from __future__ import annotations

import io
import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from trips.tabular import Cell, write_table

Record = dict[str, Any]


def rendered(records: Sequence[Record], form: str, columns: Mapping[str, str]) -> str:
    """Give the records in the form asked for: json, csv, or a table of some columns."""
    if form == "json":
        return as_json(records)
    return as_csv(records, columns) if form == "csv" else as_table(records, columns)


def as_json(records: Sequence[Record]) -> str:
    return json.dumps(records, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def as_csv(records: Sequence[Record], columns: Iterable[str] = ()) -> str:
    """Put every key into a column; without records, the columns of the table as a heading."""
    heading = list(records[0] if records else columns)
    text = io.StringIO()
    write_table(text, heading, ([_cell(record[key]) for key in heading] for record in records))
    return text.getvalue()


def as_table(records: Sequence[Record], columns: Mapping[str, str]) -> str:
    """Put chosen columns (key → heading) under each other; numbers to the right."""
    rows = [[_shown(record[key]) for key in columns] for record in records]
    headings = list(columns.values())
    widths = [max(len(row[n]) for row in [headings, *rows]) for n in range(len(headings))]
    numeric = [all(isinstance(record[key], int | float) for record in records) for key in columns]
    lines = (_aligned(row, widths, numeric) for row in [headings, *rows])
    return "".join(f"{line}\n" for line in lines)


def _aligned(row: Sequence[str], widths: Sequence[int], to_right: Sequence[bool]) -> str:
    cells = (
        cell.rjust(width) if right else cell.ljust(width)
        for cell, width, right in zip(row, widths, to_right, strict=True)
    )
    return "  ".join(cells).rstrip()


def _cell(value: Any) -> Cell:
    """Flatten lists: instants beside each other, spans as start/end (ISO 8601, 4.4)."""
    if isinstance(value, list):
        return " ".join("/".join(item) if isinstance(item, list) else item for item in value)
    flat: Cell = value
    return flat


def _shown(value: Any) -> str:
    if value is None or value == []:
        return "–"
    if isinstance(value, float):
        return f"{value:.2f}"
    # A terminal obeys control characters; a name must not command it.
    return "".join(letter if letter.isprintable() else " " for letter in str(_cell(value)))
