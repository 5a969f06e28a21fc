"""The marks of a head count as a phone or a button sends them, read one by one."""

from __future__ import annotations

import json
import uuid
from dataclasses import dataclass, field
from typing import Any

from django.http import Http404, HttpRequest
from django.utils import timezone
from django.utils.dateparse import parse_datetime

from trips.models import Tick
from trips.services.head_counts import SentTick

# What a phone without signal gathers in a night, and more.
MOST_TICKS, MOST_BYTES = 2000, 1_000_000
UNREADABLE = (ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError)


@dataclass(frozen=True, slots=True)
class Sent:
    """`unread`: the ids, as they were sent, of the marks that could not be read."""

    ticks: list[SentTick] = field(default_factory=list)
    unread: list[Any] = field(default_factory=list)


def sent_ticks(request: HttpRequest) -> Sent:
    """Read the marks of a phone; one that cannot be read keeps no other one back.

    Errors: `UNREADABLE` where what was sent is no list of marks, or far too long.
    """
    if len(request.body) > MOST_BYTES:
        raise ValueError
    rows = json.loads(request.body)["ticks"]
    if not isinstance(rows, list) or len(rows) > MOST_TICKS:
        raise ValueError
    sent = Sent()
    for row in rows:
        try:
            sent.ticks.append(_read(row))
        except UNREADABLE:
            sent.unread.append(row.get("uid") if isinstance(row, dict) else None)
    return sent


def pressed_tick(request: HttpRequest) -> SentTick:
    """Read the press of a button; it carries the id of the form that it stands in."""
    try:
        uid, kind = uuid.UUID(request.POST["uid"]), Tick.Kind(request.POST["kind"])
        return SentTick(uid, request.POST["who"], kind, timezone.now())
    except (KeyError, ValueError) as error:
        raise Http404 from error


def _read(row: dict[str, Any]) -> SentTick:
    at, who = parse_datetime(row["at"]), row["who"]
    if at is None or at.tzinfo is None or not isinstance(who, str):
        raise ValueError
    return SentTick(uuid.UUID(row["uid"]), who, Tick.Kind(row["kind"]), at)
