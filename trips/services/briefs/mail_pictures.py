"""The pictures of a version as mail can show them: painted once, in the background."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape

from django.db import transaction

from trips.models import Brief, BriefPicture
from trips.planning.brief.facts import Kept
from trips.services.brief_pictures import as_png

WIDE, ROUND = 600, 440
# Of all pictures of a mail, before they are written as text and grow by a third.
MOST_BYTES = 190_000

TITLE = re.compile(r"<title[^>]*>(.*?)</title>", re.DOTALL)
SAID = re.compile(r"<desc[^>]*>(.*?)</desc>", re.DOTALL)


def keep_pictures(brief: Brief) -> None:
    """Paint a version's pictures, where nobody has done so yet."""
    if BriefPicture.objects.filter(brief=brief).exists():
        return
    rows = list(_painted(brief))
    with transaction.atomic():
        BriefPicture.objects.bulk_create(rows, ignore_conflicts=True)


def drawings_of(facts: Kept) -> Iterator[tuple[str, str]]:
    """Give the drawings of a brief that it has, each by a name."""
    named = [
        ("night", facts["strip"]),
        *((f"target-{one['number']}", one["picture"]) for one in facts["targets"]),
        *((f"sky-{number}", one["picture"]) for number, one in enumerate(facts["skies"], 1)),
    ]
    yield from ((name, drawing) for name, drawing in named if drawing)


def said_of(drawing: str) -> str:
    """Give what a drawing says of itself in words."""
    found = [pattern.search(drawing) for pattern in (TITLE, SAID)]
    return ". ".join(unescape(one[1]).strip(" .") for one in found if one and one[1].strip())


def _painted(brief: Brief) -> Iterator[BriefPicture]:
    """The largest come last: what would make the mail too large is left to the page."""
    left = MOST_BYTES
    for name, drawing in drawings_of(brief.facts):
        png = as_png(drawing, width=ROUND if name.startswith("sky") else WIDE)
        left -= len(png)
        if left >= 0:
            yield BriefPicture(brief=brief, name=name, description=said_of(drawing), png=png)
