"""Entries of a list of targets as a table: read all or nothing, and written alike."""

from __future__ import annotations

from collections.abc import Iterator

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from trips.models import TargetEntry, TargetList
from trips.services.target_lists import MOST_ENTRIES, check_entries, settle
from trips.tabular import Cell, Line, TableError, read_table

COLUMNS = ("target", "light", "least_altitude", "field", "weight", "name")
MOST_BYTES = 200_000
MOST_REFUSALS = 20


def entries_from_table(data: bytes) -> list[TargetEntry]:
    """Read entries, unsaved. Errors: `ValidationError` with a sentence for each line refused."""
    if len(data) > MOST_BYTES:
        words = _("The file has %(size)d kB; a list of targets has at most %(most)d.")
        raise ValidationError(words % {"size": len(data) // 1000, "most": MOST_BYTES // 1000})
    try:
        lines = read_table(data, required=COLUMNS[:1], optional=COLUMNS[1:])
    except TableError as error:
        raise ValidationError(str(error)) from None
    if len(lines) > MOST_ENTRIES:
        words = _("A list has at most %(most)d targets; this table has %(count)d.")
        raise ValidationError(words % {"most": MOST_ENTRIES, "count": len(lines)})
    read = [_entry(line) for line in lines]
    refused = [words for _line, told in read for words in told]
    if refused:
        raise ValidationError(_shortened(refused))
    entries = [entry for entry, _told in read]
    check_entries(entries)
    return entries


def rows_of(target_list: TargetList) -> Iterator[tuple[Cell, ...]]:
    """Give the entries as rows of COLUMNS."""
    for entry in target_list.entries.all():
        yield (
            entry.target,
            entry.light,
            entry.least_altitude_degrees,
            entry.field_degrees,
            entry.weight,
            entry.name,
        )


def _entry(line: Line) -> tuple[TargetEntry, list[str]]:
    """Give the entry of a line, and why it is refused, each sentence with the line's number."""
    entry = TargetEntry(name=line.text("name"), light=line.text("light").lower())
    refused: list[str] = []
    columns = {"least_altitude": "least_altitude_degrees", "field": "field_degrees",
               "weight": "weight"}  # fmt: skip
    for column, name in columns.items():
        try:
            if line.text(column):
                setattr(entry, name, line.decimal(column))
        except TableError as error:
            refused.append(str(error))
    entry.target = line.text("target")
    words = _("Line %(line)d: %(refused)s")
    return entry, refused + [
        words % {"line": line.number, "refused": each} for each in settle(entry)
    ]


def _shortened(refused: list[str]) -> list[str]:
    more = len(refused) - MOST_REFUSALS
    if more <= 0:
        return refused
    return [*refused[:MOST_REFUSALS], _("… and %(count)d more.") % {"count": more}]
