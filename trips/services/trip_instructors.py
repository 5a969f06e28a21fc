"""Who leads a trip: members of its organisation, at least one."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _

from trips.models import Membership, Tick, Trip, TripInstructor, User
from trips.services.link_ends import end_of
from trips.services.links import sign
from trips.services.places import lock
from trips.services.refusals import TripRefusedError
from trips.services.trip_history import note

LONGEST_PHONE = 40


def choosable_users(trip: Trip) -> list[User]:
    """Give the members who do not lead the trip yet, by name."""
    members = User.objects.filter(memberships__organisation=trip.organisation_id, is_active=True)
    others = members.exclude(led_trips__trip=trip)
    return sorted(others, key=lambda user: user.called.casefold())


@transaction.atomic
def add_instructor(
    trip: Trip, user: User, *, by: User, now: datetime, phone: str = ""
) -> TripInstructor:
    """Let a member lead, with a head-count link of their own. Errors: `TripRefusedError`."""
    refuse_stranger(trip, user)
    if TripInstructor.objects.filter(trip=trip, user=user).exists():
        raise TripRefusedError(_("%(user)s leads this trip already.") % {"user": user})
    _refuse_long(phone)
    instructor = lead(trip, user, phone=phone)
    note(trip, "instructor_added", at=now, by=by, user=user.pk)
    return instructor


def lead(trip: Trip, user: User, *, phone: str = "") -> TripInstructor:
    """Give a member the row, and with it the head-count link, of those who lead."""
    instructor = TripInstructor(trip=trip, user=user, phone=phone, link_expires_at=end_of(trip))
    sign(instructor)
    instructor.save()
    return instructor


def refuse_stranger(trip: Trip, user: User) -> None:
    if not Membership.objects.filter(organisation=trip.organisation_id, user=user).exists():
        words = _("%(user)s is not a member of %(organisation)s.")
        raise TripRefusedError(words % {"user": user, "organisation": trip.organisation})


@transaction.atomic
def set_phone(instructor: TripInstructor, phone: str, *, by: User, now: datetime) -> None:
    """Write down under which number somebody is reached on the night."""
    _refuse_long(phone)
    instructor.phone = phone
    instructor.save(update_fields=["phone"])
    note(instructor.trip, "instructor_phone", at=now, by=by, user=instructor.user_id)


@transaction.atomic
def take_off(instructor: TripInstructor, *, by: User, now: datetime) -> None:
    """Let somebody lead no longer; the head-count link opens nothing any more.

    Errors: `TripRefusedError` for the last one, and for who is in a head count: it would go too.
    """
    lock(instructor.trip)
    if TripInstructor.objects.filter(trip=instructor.trip_id).count() == 1:
        raise TripRefusedError(_("Somebody must lead the trip: add another instructor first."))
    if Tick.objects.filter(Q(instructor=instructor) | Q(leader=instructor)).exists():
        words = _("%(user)s stands in a head count of this trip, and stays in its records.")
        raise TripRefusedError(words % {"user": instructor})
    note(instructor.trip, "instructor_off", at=now, by=by, user=instructor.user_id)
    instructor.delete()


def _refuse_long(phone: str) -> None:
    if len(phone) > LONGEST_PHONE:
        words = _("A phone number has at most %(most)d characters.")
        raise TripRefusedError(words % {"most": LONGEST_PHONE})
