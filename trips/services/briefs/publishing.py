"""Versions of a night's brief: published once, never changed, planned for each person after it."""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime

from celery import current_app
from django.db import transaction
from django.utils.translation import gettext as _
from kombu.exceptions import OperationalError

from trips.models import Brief, Trip, TripNight, User
from trips.planning.brief.changes import changes, is_same
from trips.planning.brief.facts import Facts, Kept, kept_of
from trips.services.briefs.drafts import draft_of, facts_of
from trips.services.briefs.rendering import parts_of
from trips.services.refusals import RefusedError
from trips.services.trip_history import note

PLANS_TASK = "trips.make_plans"
PLANS_SECONDS = 60


def publish(
    night: TripNight, *, by: User, now: datetime, is_mailed: bool, expects: int | None = None
) -> Brief:
    """Publish what the night's brief says now, as the version after the last one.

    `expects` is the number that whoever pressed the button read there: pressed twice, or by two,
    it is published once. Errors: `RefusedError` where nothing is other than before or
    the trip is cancelled, and those of `draft_of`.
    """
    if night.trip.status == Trip.Status.CANCELLED:
        raise RefusedError(_("This trip is cancelled: nothing is published of its nights."))
    facts = facts_of(draft_of(night, now=now))
    parts = parts_of(kept_of(facts))
    with transaction.atomic():
        TripNight.objects.select_for_update().get(pk=night.pk)
        last = latest(night)
        if last and expects is not None and last.number != expects - 1:
            return last
        _refuse_the_same(last, kept_of(facts))
        brief = Brief.objects.create(
            night=night,
            number=last.number + 1 if last else 1,
            published_at=now,
            published_by=by,
            facts=kept_of(facts),
            parts=parts,
            changes=changes(last.facts, kept_of(facts)) if last else [],
            is_mailed=is_mailed,
        )
        note(
            night.trip, "brief_published", at=now, by=by, date=f"{night.date}", number=brief.number
        )
        transaction.on_commit(_ask_for_plans)
    return brief


def _ask_for_plans() -> None:
    """Let a worker begin at once. Without a broker a sweep finds what is missing, later."""
    with suppress(OperationalError, OSError):
        current_app.send_task(PLANS_TASK, expires=PLANS_SECONDS)


def latest(night: TripNight) -> Brief | None:
    """Give the version that people read now."""
    found: Brief | None = Brief.objects.filter(night=night).order_by("-number").first()
    return found


def what_would_change(night: TripNight, facts: Facts) -> list[str]:
    """Say what a version published now would say otherwise; nothing where none was yet."""
    last = latest(night)
    return changes(last.facts, kept_of(facts)) if last else []


def _refuse_the_same(last: Brief | None, facts: Kept) -> None:
    if last and is_same(last.facts, facts):
        words = _("Nothing is other than in version %(number)d: there is nothing to publish.")
        raise RefusedError(words % {"number": last.number})
