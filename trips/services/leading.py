"""Who decides over a trip: those who lead it, and the coordinators of its organisation.

The other members see its board. Whoever stays at home and has heard that all are back tells one of
these, who closes the night.
"""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import QuerySet
from django.utils.translation import gettext as _

from trips.models import Membership, Trip, TripInstructor, User


def may_change(user: User, trip: Trip, *, leading: Iterable[TripInstructor] | None = None) -> bool:
    """Tell whether the trip, its nights and its people are this person's to decide over.

    `leading`: those who lead it, where they are read already.
    """
    rows = TripInstructor.objects.filter(trip=trip) if leading is None else leading
    if any(one.user_id == user.pk for one in rows):
        return True
    return bool(_coordinators(trip).filter(user=user).exists())


def who_may(trip: Trip, *, leading: Iterable[TripInstructor] | None = None) -> str:
    """Say to the others, in one sentence, whom to ask."""
    rows = trip.instructors.select_related("user") if leading is None else leading
    coordinators = _coordinators(trip)
    words = _(
        "Only those who lead “%(trip)s” (%(leaders)s) or coordinate %(organisation)s "
        "(%(coordinators)s) may do this: ask one of them."
    )
    return words % {
        "trip": trip.name,
        "leaders": ", ".join(str(one) for one in rows),
        "organisation": trip.organisation,
        "coordinators": ", ".join(one.user.called for one in coordinators) or _("nobody"),
    }


def coordinators_of(trip: Trip) -> list[User]:
    """Give those who may decide over a trip besides who leads it."""
    return [one.user for one in _coordinators(trip)]


def _coordinators(trip: Trip) -> QuerySet[Membership]:
    held = Membership.objects.filter(organisation=trip.organisation_id)
    coordinators = held.filter(role=Membership.Role.COORDINATOR, user__is_active=True)
    return coordinators.select_related("user").order_by("pk")
