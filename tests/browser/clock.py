"""The day on which the browser tests happen, whatever day it is."""

from __future__ import annotations

from datetime import UTC, datetime

from django.utils import timezone

TODAY = datetime(2027, 2, 1, 12, tzinfo=UTC)


def hold() -> None:
    """Stop this process's clock. Before the app is imported: its views ask `timezone.now`."""
    timezone.now = lambda: TODAY
