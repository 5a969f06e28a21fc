"""Deeds on trips: made, saved, stepped from one status to the next."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.wording import SkyError, sentence
from trips.models import (
    Enrolment,
    Organisation,
    Season,
    Spot,
    TargetList,
    Trip,
    TripNight,
    User,
)
from trips.models.enrolment import COMING
from trips.planning.trip_steps import STEPS, may_step
from trips.services.editing import save_edited
from trips.services.letters import queue
from trips.services.link_ends import set_ends
from trips.services.links import revoke_invitation, sign_invitation
from trips.services.moving_up import settle
from trips.services.night_proposals import NightPlan, planned_nights
from trips.services.night_times import set_call_outs
from trips.services.places import lock
from trips.services.refusals import TripRefusedError
from trips.services.step_needs import Standing, needs
from trips.services.trip_history import note
from trips.services.trip_instructors import lead, refuse_stranger
from trips.services.trip_nights import refuse_spots

MOST_NIGHTS = 31
# What has a deed of its own, and is not overwritten by a form that was opened before it.
_STEPPED = {"status", "status_since", "invitation_generation", "invitation_hash"}
# Of a status: which letter goes out, and to whom.
_TOLD: dict[str, tuple[str, tuple[str, ...]]] = {
    Trip.Status.CONFIRMED: ("trip_confirmed", COMING),
    Trip.Status.CANCELLED: ("trip_cancelled", (*COMING, Enrolment.State.WAITING)),
}


@transaction.atomic
def make_trip(
    organisation: Organisation,
    *,
    name: str,
    evenings: Sequence[date],
    spot: Spot,
    by: User,
    now: datetime,
    season: Season | None = None,
    target_list: TargetList | None = None,
    second_spot: Spot | None = None,
    meeting_point: str = "",
    until: time | None = None,
    decision_clock: time | None = None,
    decision_place: str = "",
    **values: Any,
) -> Trip:
    """Make a draft with a night an evening, led by `by`. Hours are local to the spot; without
    `until` the nights last as the season says.

    `values` are other columns of `Trip`. Errors: `TripRefusedError`.
    """
    plan = NightPlan(spot, second_spot, meeting_point, until, decision_clock, decision_place)
    trip = Trip(
        organisation=organisation, name=name, season=season, target_list=target_list,
        status_since=now, **values,
    )  # fmt: skip
    _refuse_foreign(trip)
    refuse_stranger(trip, by)
    sign_invitation(trip)
    trip.save()
    for night in _nights(trip, plan, evenings):
        refuse_spots(night)
        night.save()
    note(trip, "made", at=now, by=by)
    lead(trip, by)
    return trip


@transaction.atomic
def save_trip(trip: Trip, *, by: User, now: datetime) -> None:
    """Save what an editor may change. Errors: `TripRefusedError`, `EditedMeanwhileError`."""
    lock(trip)
    _refuse_foreign(trip)
    taken = Enrolment.objects.filter(trip=trip).with_a_place().count()
    if trip.capacity < taken:
        words = ngettext(
            "%(taken)d person has a place: there cannot be fewer places than that.",
            "%(taken)d people have a place: there cannot be fewer places than that.",
            taken,
        )
        raise TripRefusedError(words % {"taken": taken})
    save_edited(trip, only={field.name for field in Trip._meta.fields} - _STEPPED)
    set_call_outs(trip)
    set_ends(trip)
    settle(trip, now=now)
    note(trip, "edited", at=now, by=by)


@transaction.atomic
def renew_invitation(trip: Trip, *, by: User, now: datetime) -> None:
    """Make the invitation that was handed out useless."""
    locked = lock(trip)
    if note(locked, "invitation_renewed", at=now, by=by):
        revoke_invitation(locked)


@transaction.atomic
def step(trip: Trip, to: str, *, by: User | None, now: datetime) -> None:
    """Take the trip to another status; `by` None: it follows from what others did.

    Errors: `TripRefusedError` says what is missing, or which steps there are.
    """
    if not may_step(trip.status, to):
        raise TripRefusedError(_no_such_step(trip))
    missing = needs(Standing.of(trip), to, now=now)
    if missing:
        raise TripRefusedError(missing[0])
    same = Trip.objects.filter(pk=trip.pk, status=trip.status)
    if same.update(status=to, status_since=now, version=F("version") + 1) != 1:
        raise TripRefusedError(_("Somebody else moved the trip on meanwhile: look at it again."))
    note(trip, "stepped", at=now, by=by, before=trip.status, after=to)
    trip.status, trip.status_since = to, now
    trip.version += 1
    _tell(trip, now=now)


def _tell(trip: Trip, *, now: datetime) -> None:
    """Write to everybody whom the step concerns."""
    kind, states = _TOLD.get(trip.status, ("", ()))
    for enrolment in Enrolment.objects.filter(trip=trip, state__in=states):
        queue(kind, key=f"{kind}:{enrolment.uid}", trip=trip, enrolment=enrolment, due_at=now)


def _nights(trip: Trip, plan: NightPlan, evenings: Sequence[date]) -> list[TripNight]:
    wanted = sorted(set(evenings))
    if not 1 <= len(wanted) <= MOST_NIGHTS:
        raise TripRefusedError(_("A trip has 1 to %(most)d nights.") % {"most": MOST_NIGHTS})
    try:
        return planned_nights(trip, plan, wanted)
    except SkyError as error:
        raise TripRefusedError(sentence(error)) from error


def _refuse_foreign(trip: Trip) -> None:
    for row in (trip.season, trip.target_list):
        if row is not None and row.organisation_id != trip.organisation_id:
            words = _("“%(name)s” belongs to another organisation; choose among your own.")
            raise TripRefusedError(words % {"name": row})


def _no_such_step(trip: Trip) -> str:
    steps = [str(Trip.Status(to).label) for to in STEPS[trip.status]]
    if not steps:
        words = _("%(trip)s is %(status)s, and stays so.")
        return words % {"trip": trip, "status": trip.get_status_display()}
    words = _("%(trip)s is %(status)s; from there it can become: %(steps)s.")
    return words % {
        "trip": trip, "status": trip.get_status_display(), "steps": ", ".join(steps)
    }  # fmt: skip
