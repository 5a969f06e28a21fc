"""Who is asking: every page starts from the person signed in."""

from __future__ import annotations

from collections.abc import Iterable
from typing import cast

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest

from trips.models import Membership, Organisation, User


def member(request: HttpRequest) -> User:
    """Give the person signed in; used behind `login_required` only."""
    return cast(User, request.user)


def require_coordinator(request: HttpRequest, organisation: Organisation) -> None:
    if organisation.pk not in coordinated(request, [organisation]):
        raise PermissionDenied


def coordinated(request: HttpRequest, organisations: Iterable[Organisation]) -> set[int]:
    """Give the ids of those organisations that the person coordinates."""
    held = Membership.objects.filter(
        user=member(request),
        role=Membership.Role.COORDINATOR,
        organisation__in=list(organisations),
    )
    return set(held.values_list("organisation_id", flat=True))
