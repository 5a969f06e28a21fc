"""A version in hand: its plans are made by one worker at a time.

Two would do no harm, and each compute what the other does. A worker that gives no sign of life
leaves the version to another one.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Q, QuerySet

from trips.models import Brief

Clock = Callable[[], datetime]

LEASE = timedelta(seconds=15)  # many times what a night takes to compute and to paint
NO_LEASE = {"lease_owner": None, "lease_expires_at": None}


@dataclass(frozen=True, slots=True)
class Hold:
    brief: Brief
    owner: uuid.UUID

    def rows(self) -> QuerySet[Brief]:
        """Give the version's row while it is in this hand, else no row."""
        return Brief.objects.filter(pk=self.brief.pk, lease_owner=self.owner)

    def renew(self, *, now: datetime) -> bool:
        """Give a sign of life; False where another one has taken it over."""
        return self.rows().update(lease_expires_at=now + LEASE) == 1


@contextmanager
def in_hand(brief: Brief, *, clock: Clock) -> Iterator[Hold | None]:
    """Take a version in hand as long as the block lasts; None where another worker has it."""
    now, hold = clock(), Hold(brief, uuid.uuid4())
    free = Q(lease_owner=None) | Q(lease_expires_at__lt=now)
    lease = {"lease_owner": hold.owner, "lease_expires_at": now + LEASE}
    if Brief.objects.filter(free, pk=brief.pk).update(**lease) != 1:
        yield None
        return
    try:
        yield hold
    finally:
        hold.rows().update(**NO_LEASE)
