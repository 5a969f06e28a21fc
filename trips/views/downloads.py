"""Tables to take away."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import StringIO

from django.http import HttpResponse
from django.utils.http import content_disposition_header
from django.utils.text import slugify

from trips.tabular import BYTE_ORDER_MARK, Cell, write_table


def csv_file(
    names: Sequence[str], heading: Sequence[str], rows: Iterable[Sequence[Cell]]
) -> HttpResponse:
    """Give a table as a file named after what it is of, in whatever script that is written."""
    table = StringIO()
    table.write(BYTE_ORDER_MARK)  # without it a spreadsheet may take the names for Latin-1
    write_table(table, heading, rows)
    response = HttpResponse(table.getvalue(), content_type="text/csv; charset=utf-8")
    name = "-".join(slugify(name, allow_unicode=True) for name in names)
    disposition = content_disposition_header(True, f"{name.strip('-')}.csv")
    response.headers["Content-Disposition"] = disposition or "attachment"
    return response
