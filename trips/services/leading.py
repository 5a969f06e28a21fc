"""Who decides over a trip: those who lead it, and the coordinators of its organisation.

The other members see its board. Whoever stays at home and has heard that all are back tells one of
these, who closes the night.
"""

from __future__ import annotations

from collections.abc import Iterable

from django.utils.translation import gettext as _

from trips.models import Membership, Trip, TripInstructor, User


def may_change(user: User, trip: Trip, *, leading: Iterable[TripInstructor] | None = None) -> bool:
    """Tell whether the trip, its nights and its people are this person's to decide over.

    `leading`: those who lead it, where they are read already.
    """
    rows = TripInstructor.objects.filter(trip=trip) if leading is None else leading
    if any(one.user_id == user.pk for one in rows):
        return True
    held = Membership.objects.filter(user=user, organisation=trip.organisation_id)
    return bool(held.filter(role=Membership.Role.COORDINATOR).exists())


def who_may(trip: Trip, *, leading: Iterable[TripInstructor] | None = None) -> str:
    """Say to the others, in one sentence, whom to ask."""
    rows = trip.instructors.select_related("user") if leading is None else leading
    words = _(
        "Only those who lead “%(trip)s” (%(leaders)s) or a coordinator of %(organisation)s may "
        "do this: ask one of them."
    )
    leaders = ", ".join(str(one) for one in rows)
    return words % {"trip": trip.name, "leaders": leaders, "organisation": trip.organisation}
