"""Deeds on trips and their nights: made, saved, stepped from one status to the next."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.wording import SkyError, sentence
from trips.models import (
    Enrolment,
    Membership,
    Organisation,
    Season,
    Spot,
    TargetList,
    Trip,
    TripInstructor,
    TripNight,
    User,
)
from trips.planning.nights import Wishes
from trips.planning.trip_steps import STEPS, may_step
from trips.services.editing import save_edited
from trips.services.links import sign, sign_invitation
from trips.services.night_proposals import propose_hours
from trips.services.night_times import set_call_out, set_call_outs
from trips.services.refusals import TripRefusedError
from trips.services.step_needs import needs
from trips.services.trip_history import note

MOST_NIGHTS = 31
# What has a deed of its own, and is not overwritten by a form that was opened before it.
_STEPPED = {"status", "status_since", "invitation_generation", "invitation_hash"}
_DONE_ELSEWHERE = {
    "trip", "decision", "decided_at", "decided_by", "closed_at", "closed_by",
    "oktas", "clear_hours", "log_note", "logged_at", "logged_by",
}  # fmt: skip


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
    **values: Any,
) -> Trip:
    """Make a draft with a night an evening, led by `by`; the season says which hours they last.

    `values` are other columns of `Trip`. Without a list of its own the trip wants what the season
    wants. Errors: `TripRefusedError`.
    """
    if season is not None and target_list is None:
        target_list = season.target_list
    trip = Trip(
        organisation=organisation, name=name, season=season, target_list=target_list,
        status_since=now, **values,
    )  # fmt: skip
    _refuse_foreign(trip)
    refuse_stranger(trip, by)
    sign_invitation(trip)
    trip.save()
    for night in new_nights(trip, spot, evenings):
        night.second_spot, night.meeting_point = second_spot, meeting_point
        _refuse_spots(night)
        night.save()
    lead(trip, by)
    note(trip, "made", at=now, by=by)
    return trip


@transaction.atomic
def save_trip(trip: Trip, *, by: User, now: datetime) -> None:
    """Save what an editor may change. Errors: `TripRefusedError`, `EditedMeanwhileError`."""
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
    note(trip, "edited", at=now, by=by)


@transaction.atomic
def save_night(night: TripNight, *, by: User, now: datetime) -> None:
    """Save what an editor may change of a night, or a new one.

    Errors: `TripRefusedError`, `EditedMeanwhileError`.
    """
    _refuse_spots(night)
    _refuse_taken_evening(night)
    if night.ends_at <= night.meeting_at:
        raise TripRefusedError(_("The night ends before people meet: put its end after that."))
    set_call_out(night, night.trip)
    is_new = night.pk is None
    if is_new:
        night.save()
    else:
        save_edited(night, only={f.name for f in TripNight._meta.fields} - _DONE_ELSEWHERE)
    what = "night_added" if is_new else "night_edited"
    note(night.trip, what, at=now, by=by, night=night.pk, date=f"{night.date}")


@transaction.atomic
def remove_night(night: TripNight, *, by: User, now: datetime) -> None:
    """Take a night off a trip that keeps at least one. Errors: `TripRefusedError`."""
    if night.closed_at is not None or night.decision == TripNight.Decision.GO:
        raise TripRefusedError(_("This night took place: it stays."))
    if night.trip.nights.count() == 1:
        raise TripRefusedError(_("A trip keeps at least one night: cancel the trip instead."))
    note(night.trip, "night_removed", at=now, by=by, night=night.pk, date=f"{night.date}")
    night.delete()


@transaction.atomic
def step(trip: Trip, to: str, *, by: User | None, now: datetime) -> None:
    """Take the trip to another status; `by` None: it follows from what others did.

    Errors: `TripRefusedError` says what is missing, or which steps there are.
    """
    if not may_step(trip.status, to):
        raise TripRefusedError(_no_such_step(trip))
    missing = needs(trip, to, now=now)
    if missing:
        raise TripRefusedError(missing[0])
    same = Trip.objects.filter(pk=trip.pk, status=trip.status)
    if same.update(status=to, status_since=now, version=F("version") + 1) != 1:
        raise TripRefusedError(_("Somebody else moved the trip on meanwhile: look at it again."))
    note(trip, "stepped", at=now, by=by, before=trip.status, after=to)
    trip.status, trip.status_since = to, now
    trip.version += 1


def new_nights(trip: Trip, spot: Spot, evenings: Sequence[date]) -> list[TripNight]:
    """Give unsaved nights at a spot with the hours that the trip's season has.

    Errors: `TripRefusedError` for evenings that cannot be.
    """
    wishes = Wishes.of(trip.season) if trip.season else Wishes()
    wanted = sorted(set(evenings))
    if not 1 <= len(wanted) <= MOST_NIGHTS:
        raise TripRefusedError(_("A trip has 1 to %(most)d nights.") % {"most": MOST_NIGHTS})
    try:
        hours = propose_hours(spot.site, wanted, wishes)
    except SkyError as error:
        raise TripRefusedError(sentence(error)) from error
    nights = [
        TripNight(trip=trip, date=day, spot=spot, meeting_at=of.meeting_at, ends_at=of.ends_at,
                  drive_minutes=spot.site.drive_minutes or 0)
        for day, of in hours.items()
    ]  # fmt: skip
    for night in nights:
        set_call_out(night, trip)
    return nights


def lead(trip: Trip, user: User) -> TripInstructor:
    """Make a member one of those who lead, with a head-count link of their own."""
    instructor = TripInstructor(trip=trip, user=user)
    sign(instructor)
    instructor.save()
    return instructor


def refuse_stranger(trip: Trip, user: User) -> None:
    held = Membership.objects.filter(organisation=trip.organisation_id, user=user)
    if not held.exists():
        words = _("%(user)s is not a member of %(organisation)s.")
        raise TripRefusedError(words % {"user": user, "organisation": trip.organisation})


def _refuse_foreign(trip: Trip) -> None:
    for row in (trip.season, trip.target_list):
        if row is not None and row.organisation_id != trip.organisation_id:
            words = _("“%(name)s” belongs to another organisation; choose among your own.")
            raise TripRefusedError(words % {"name": row})


def _refuse_spots(night: TripNight) -> None:
    for spot in (night.spot, night.second_spot):
        if spot is not None and spot.site.organisation_id != night.trip.organisation_id:
            words = _("“%(name)s” belongs to another organisation; choose among your own spots.")
            raise TripRefusedError(words % {"name": spot})
    if night.second_spot == night.spot:
        raise TripRefusedError(_("The second spot is the first one: choose another, or none."))


def _refuse_taken_evening(night: TripNight) -> None:
    others = TripNight.objects.filter(trip=night.trip, date=night.date).exclude(pk=night.pk)
    if others.exists():
        raise TripRefusedError(_("The trip has a night on that evening already: edit that one."))


def _no_such_step(trip: Trip) -> str:
    steps = [str(Trip.Status(to).label) for to in STEPS[trip.status]]
    if not steps:
        words = _("%(trip)s is %(status)s, and stays so.")
        return words % {"trip": trip, "status": trip.get_status_display()}
    words = _("%(trip)s is %(status)s; from there it can become: %(steps)s.")
    return words % {
        "trip": trip, "status": trip.get_status_display(), "steps": ", ".join(steps)
    }  # fmt: skip
