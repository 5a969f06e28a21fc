"""Tables as CSV: one reader that refuses in a sentence, one writer that no spreadsheet executes."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TextIO

from django.utils.translation import gettext as _

# A spreadsheet takes a cell that starts with one of these for a formula.
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")
DELIMITERS = (",", ";", "\t")
BYTE_ORDER_MARK = "\ufeff"

Cell = str | float | None


class TableError(ValueError):
    """A table that cannot be accepted: one plain sentence, with the line where there is one."""


@dataclass(frozen=True, slots=True)
class Line:
    """One record: the number of its first line in the file, and its cells by column."""

    number: int
    cells: dict[str, str]
    decimal_commas: bool

    def text(self, column: str) -> str:
        """Give the cell without outer spaces; empty for an optional column that is not there."""
        return self.cells.get(column, "")

    def required(self, column: str) -> str:
        """Give the cell; refuse an empty one."""
        text = self.text(column)
        if not text:
            raise TableError(
                _("Line %(line)d: %(column)s is empty.") % {"line": self.number, "column": column}
            )
        return text

    def decimal(self, column: str) -> float:
        """Give the cell as a number; refuse what is none."""
        text = self.required(column)
        try:
            return float(text.replace(",", ".") if self.decimal_commas else text)
        except ValueError:
            raise TableError(
                _("Line %(line)d: %(column)s “%(value)s” is not a number.")
                % {"line": self.number, "column": column, "value": text}
            ) from None


def read_table(data: bytes, *, required: Sequence[str], optional: Sequence[str] = ()) -> list[Line]:
    """Read a table with a heading line, columns in any order; other columns are left out.

    Commas between cells, or semicolons or tabs and then decimal commas. Errors: `TableError` for
    empty or binary data, missing or repeated columns, and records that do not fit the heading.
    """
    text = _decoded(data)
    heading_line = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max(DELIMITERS, key=heading_line.count)
    records = _records(text, delimiter)
    if not records:
        raise TableError(_("The file is empty; its first line must name the columns."))
    heading = [name.strip().lower() for name in records[0][1]]
    _check_heading(heading, required, optional)
    if len(records) == 1:
        raise TableError(_("The file has a heading but no lines under it."))
    wanted = {*required, *optional}
    return [
        Line(number, _cells(number, heading, record, wanted), delimiter != ",")
        for number, record in records[1:]
    ]


def write_table(stream: TextIO, heading: Sequence[str], rows: Iterable[Sequence[Cell]]) -> None:
    """Write a table with commas; numbers are never localised, texts never become formulas."""
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow([harmless(name) for name in heading])
    writer.writerows([_written(cell) for cell in row] for row in rows)


def harmless(text: str) -> str:
    """Put an apostrophe before what a spreadsheet would execute; numbers stay as they are."""
    # Apostrophes that were there are looked through, so that `_bare` takes back our own only.
    behind = text.lstrip("'")
    if behind.startswith(FORMULA_STARTS) and not NUMBER.fullmatch(behind):
        return f"'{text}"
    return text


def _written(cell: Cell) -> str | float:
    if cell is None:
        return ""
    if not isinstance(cell, str):
        return cell
    # A lone carriage return would end the line for some readers.
    return harmless(cell.replace("\r\n", "\n").replace("\r", "\n"))


def _bare(cell: str) -> str:
    """Take back the apostrophe of `harmless`, so that our own tables can be read again."""
    guarded = cell.startswith("'") and harmless(cell[1:]) == cell
    return cell[1:] if guarded else cell


def _decoded(data: bytes) -> str:
    if b"\0" in data:
        line = data[: data.index(b"\0")].count(b"\n") + 1
        raise TableError(_("The file is not a text table: line %d holds binary data.") % line)
    try:
        return data.decode("utf-8").removeprefix(BYTE_ORDER_MARK)
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise TableError(
            _("Line %d holds characters that are not UTF-8; save the table as CSV in UTF-8.") % line
        ) from None


def _records(text: str, delimiter: str) -> list[tuple[int, list[str]]]:
    """Give the records that are not blank, each with the number of its first line."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    records: list[tuple[int, list[str]]] = []
    first_line = 1
    try:
        for record in reader:
            if any(cell.strip() for cell in record):
                records.append((first_line, record))
            first_line = reader.line_num + 1
    except csv.Error:
        raise TableError(
            _("Line %d cannot be read as a table; look for a quotation mark without its pair.")
            % first_line
        ) from None
    return records


def _check_heading(
    heading: Sequence[str], required: Sequence[str], optional: Sequence[str]
) -> None:
    missing = [name for name in required if name not in heading]
    if missing:
        raise TableError(
            _("Line 1: missing columns: %(missing)s. The columns must be %(required)s.")
            % {"missing": ", ".join(missing), "required": ", ".join(required)}
        )
    counts = Counter(heading)
    repeated = [name for name in (*required, *optional) if counts[name] > 1]
    if repeated:
        raise TableError(
            _("Line 1: repeated columns: %s; each may be there once.") % ", ".join(repeated)
        )


def _cells(
    number: int, heading: Sequence[str], record: Sequence[str], wanted: set[str]
) -> dict[str, str]:
    spare = [cell for cell in record[len(heading) :] if cell.strip()]
    if spare or len(record) < len(heading):
        raise TableError(
            _("Line %(line)d has %(cells)d cells; the heading has %(columns)d.")
            % {"line": number, "cells": len(record), "columns": len(heading)}
        )
    pairs = zip(heading, record[: len(heading)], strict=True)
    return {name: _bare(cell).strip() for name, cell in pairs if name in wanted}
