"""Deeds on the nights of a trip; and its nights read once, for all that is told of them."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.db.models import OuterRef, Subquery, prefetch_related_objects
from django.utils.translation import gettext as _

from trips.almanac.local_time import local
from trips.models import Brief, Rota, Tick, Trip, TripNight, User
from trips.planning.trip_steps import GONE_BY, OVER
from trips.services.editing import save_edited
from trips.services.letter_kinds.nights import edition_of
from trips.services.link_ends import set_ends
from trips.services.loans import follow_night
from trips.services.night_news import tell_nights
from trips.services.night_times import set_call_out
from trips.services.refusals import TripRefusedError
from trips.services.removed_nights import note_moved, note_removed
from trips.services.tides import is_coast
from trips.services.trip_history import note

# What has a deed of its own, and is not overwritten by a form that was opened before it.
_DONE_ELSEWHERE = {
    "trip", "decision", "decided_at", "decided_by", "closed_at", "closed_by",
    "oktas", "clear_hours", "log_note", "logged_at", "logged_by",
}  # fmt: skip


def nights_of(trip: Trip) -> tuple[TripNight, ...]:
    """Give the nights in order with their spots and sites, and on a coast with their tides; the
    version of the brief that people read, and its hour, are `brief_number` and `brief_at`.

    One query, two on a coast.
    """
    versions = Brief.objects.filter(night=OuterRef("pk")).order_by("-number")
    rows = TripNight.objects.filter(trip=trip).select_related("spot__site", "second_spot__site")
    told = {
        f"brief_{name}": Subquery(versions.values(column)[:1])
        for name, column in (("number", "number"), ("at", "published_at"))
    }
    nights = tuple(rows.annotate(**told))
    for night in nights:
        night.trip = trip
    prefetch_related_objects([night for night in nights if is_coast(night)], "tides")
    return nights


@transaction.atomic
def save_night(night: TripNight, *, by: User, now: datetime, read_tides: bool = False) -> None:
    """Save what an editor may change of a night, or a new one; `read_tides`: its waters too.

    Errors: `TripRefusedError`, `EditedMeanwhileError`.
    """
    refuse_spots(night)
    was = TripNight.objects.filter(pk=night.pk).exclude(date=night.date).first()
    _refuse_evening(night, was, now)
    _refuse_hours(night)
    set_call_out(night, night.trip)
    before = edition_of(night.trip)
    what = "night_edited" if night.pk else "night_added"
    if night.pk is None:
        _refuse_over(night.trip)
        night.save()
    else:
        save_edited(night, only={f.name for f in TripNight._meta.fields} - _DONE_ELSEWHERE)
        follow_night(night)
    set_ends(night.trip)
    tell_nights(night.trip, before, now=now)
    if was is not None:
        note_moved(night, was.date, by=by, now=now)
    for each in ("tides", what) if read_tides else (what,):
        note(night.trip, each, at=now, by=by, night=night.pk, date=f"{night.date}")


@transaction.atomic
def remove_night(night: TripNight, *, by: User, now: datetime) -> None:
    """Take a night off a trip that keeps at least one. Errors: `TripRefusedError`."""
    if night.closed_at or night.decision or Tick.objects.filter(night=night).exists():
        raise TripRefusedError(_("This night has begun, or was decided on: it stays on record."))
    if TripNight.objects.filter(trip=night.trip).count() == 1:
        raise TripRefusedError(_("A trip keeps at least one night: cancel the trip instead."))
    before = edition_of(night.trip)
    note_removed(night, by=by, now=now)
    night.delete()
    set_ends(night.trip)
    tell_nights(night.trip, before, now=now)


def refuse_spots(night: TripNight) -> None:
    for spot in (night.spot, night.second_spot):
        if spot is not None and spot.site.organisation_id != night.trip.organisation_id:
            words = _("“%(name)s” belongs to another organisation; choose among your own spots.")
            raise TripRefusedError(words % {"name": spot})
    if night.second_spot == night.spot:
        raise TripRefusedError(_("The second spot is the first one: choose another, or none."))


def _refuse_hours(night: TripNight) -> None:
    if night.ends_at <= night.meeting_at:
        raise TripRefusedError(_("The night ends before people meet: put its end after that."))
    if night.decision_at and night.decision_at >= night.meeting_at:
        words = _("People would have set out: decide before they meet, and before their drive.")
        raise TripRefusedError(words)
    if night.leave_spot_by and night.leave_spot_by <= night.meeting_at:
        words = _("People have not met by then: put the hour to leave the spot after that.")
        raise TripRefusedError(words)
    if night.trip.status in GONE_BY and not (night.decision_at and night.decision_place):
        words = _(
            "The trip is %(status)s, and people go by it: write the hour and the place of the "
            "decision whether you go."
        )
        raise TripRefusedError(words % {"status": night.trip.get_status_display()})


def _refuse_evening(night: TripNight, was: TripNight | None, now: datetime) -> None:
    """`was` is the night as it is stored, where that is on another evening."""
    others = TripNight.objects.filter(trip=night.trip, date=night.date).exclude(pk=night.pk)
    if others.exists():
        raise TripRefusedError(_("The trip has a night on that evening already: edit that one."))
    is_new = night.pk is None
    if (is_new or was is not None) and night.date < local(now, night.spot.site.zone).date():
        raise TripRefusedError(_("That evening is over: write one that lies ahead."))
    if was is not None and _is_bound(night):
        raise TripRefusedError(
            _("Turns, a decision or a head count hold this night to its evening: add another.")
        )


def _is_bound(night: TripNight) -> bool:
    """Tell whether what was made for the evening would be wrong on another."""
    kept = (kind.objects.filter(night=night).exists() for kind in (Rota, Tick))
    return bool(night.closed_at or night.decision) or any(kept)


def _refuse_over(trip: Trip) -> None:
    if trip.status in OVER:
        words = _("%(trip)s is %(status)s: it gets no more nights.")
        told = {"trip": trip.name, "status": trip.get_status_display()}
        raise TripRefusedError(words % told)
