"""Which version of a row the person has seen, as the form says it."""

from __future__ import annotations

from django.http import HttpRequest

from trips.models import Edited

MOST_DIGITS = 9


def seen_version(request: HttpRequest, row: Edited) -> int:
    """Read the form's version; without one that can be read, the row as it is now."""
    said = request.POST.get("version", "")
    is_number = said.isascii() and said.isdecimal() and len(said) <= MOST_DIGITS
    return int(said) if is_number else row.version
