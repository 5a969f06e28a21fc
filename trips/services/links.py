"""Private links: made from the row and the link key, found again by their hash.

The database never holds a link. Whoever has the database alone can open nothing, and a letter can
carry the same link again because it can be made anew.
"""

from __future__ import annotations

import hashlib
import hmac
import uuid
from base64 import urlsafe_b64encode
from datetime import datetime
from typing import Any, TypeVar

from django.conf import settings
from django.db.models import Q, QuerySet

from trips.models import CalendarLink, Enrolment, Linked, Trip, TripInstructor

INVITATION = "invitation"
TOKEN_BYTES = 16

LinkedT = TypeVar("LinkedT", Enrolment, TripInstructor, CalendarLink)


def token(purpose: str, uid: uuid.UUID, generation: int) -> str:
    """Give the secret part of a link: 22 characters, the same each time."""
    message = f"{purpose}|{uid}|{generation}".encode()
    digest = hmac.new(settings.LINK_KEY.encode(), message, hashlib.sha256).digest()
    return urlsafe_b64encode(digest[:TOKEN_BYTES]).rstrip(b"=").decode()


def hash_of(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def token_of(row: Linked) -> str:
    return token(row.LINK_PURPOSE, row.uid, row.link_generation)


def sign(row: Linked) -> None:
    """Give the row the hash of its link; it is saved by whoever saves the row."""
    row.link_hash = hash_of(token_of(row))


def revoke(row: Linked) -> None:
    """Make the link useless, and another one possible."""
    row.link_generation += 1
    sign(row)
    row.save(update_fields=["link_generation", "link_hash"])


def found(rows: QuerySet[LinkedT], secret: str, *, at: datetime) -> LinkedT | None:
    """Give the row of a link that opens something now, in one look-up by the index."""
    valid = Q(link_expires_at=None) | Q(link_expires_at__gt=at)
    return rows.filter(valid, link_hash=hash_of(secret)).first()


def invitation_of(trip: Trip) -> str:
    return token(INVITATION, trip.uid, trip.invitation_generation)


def sign_invitation(trip: Trip) -> None:
    trip.invitation_hash = hash_of(invitation_of(trip))


def revoke_invitation(trip: Trip) -> None:
    """Make the invitation useless; places and their links stay."""
    trip.invitation_generation += 1
    sign_invitation(trip)
    trip.save(update_fields=["invitation_generation", "invitation_hash"])


def invited(trips: QuerySet[Any], secret: str) -> Trip | None:
    trip: Trip | None = trips.filter(invitation_hash=hash_of(secret)).first()
    return trip
