"""QuerySets that speak the trade. The clock and the person are parameters.

`for_member` is the only door from a request to rows.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, Self

from django.db import models
from django.db.models import F, Q

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser

    from trips.models import User


class MemberQuerySet(models.QuerySet[Any]):
    """Rows that belong to an organisation, seen by its members only."""

    organisation_path = "organisation"

    def for_member(self, user: User | AnonymousUser) -> Self:
        if not user.is_authenticated:
            return self.none()
        return self.filter(**{f"{self.organisation_path}__memberships__user": user})


class OrganisationQuerySet(MemberQuerySet):
    def for_member(self, user: User | AnonymousUser) -> Self:
        if not user.is_authenticated:
            return self.none()
        return self.filter(memberships__user=user)


class ArchivableQuerySet(MemberQuerySet):
    def current(self) -> Self:
        return self.filter(archived_at=None)


class NightQuerySet(MemberQuerySet):
    organisation_path = "site__organisation"

    def between(self, first: date, last: date) -> Self:
        """The nights named first to last, both included."""
        return self.filter(date__gte=first, date__lte=last).order_by("date")

    def fresh(self, fingerprint: str) -> Self:
        return self.filter(fingerprint=fingerprint)


class OfSiteQuerySet(ArchivableQuerySet):
    """What belongs to a site, and through it to an organisation."""

    organisation_path = "site__organisation"


class MemberOfSiteQuerySet(MemberQuerySet):
    """What belongs to a site and is not archived by itself."""

    organisation_path = "site__organisation"


class JobQuerySet(MemberQuerySet):
    def open(self) -> Self:
        """Jobs that still want work: queued or running."""
        return self.filter(state__in=["queued", "running"])

    def unattended(self, *, at: datetime, unsent_before: datetime) -> Self:
        """Queued jobs that no message carries, and running ones whose lease ran out."""
        unsent = Q(posted_at=None) | Q(posted_at__lt=unsent_before)
        return self.filter(Q(state="queued") & unsent | Q(state="running", lease_expires_at__lt=at))

    def claimable(self, *, at: datetime) -> Self:
        return self.filter(
            Q(state="queued") | Q(state="running", lease_expires_at__lt=at),
            attempts__lt=F("most_attempts"),
        )


class OfTripQuerySet(MemberQuerySet):
    organisation_path = "trip__organisation"


class OfNightQuerySet(MemberQuerySet):
    organisation_path = "night__trip__organisation"


class EnrolmentQuerySet(OfTripQuerySet):
    def with_a_place(self) -> Self:
        """Give those who are expected, and those who then did not come."""
        return self.filter(place__isnull=False)

    def coming(self) -> Self:
        """Give those who are expected."""
        return self.with_a_place().exclude(state="no_show")


class LetterQuerySet(OfTripQuerySet):
    def claimable(self, kinds: Iterable[str], *, at: datetime) -> Self:
        """Give letters of these kinds whose hour has come and that no living worker has in hand."""
        dead = Q(state="sending", lease_expires_at__lt=at)
        return self.filter(Q(state="queued") | dead, due_at__lte=at, kind__in=kinds)
