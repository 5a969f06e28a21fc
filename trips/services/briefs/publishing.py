"""Versions of a night's brief: published once, never changed, planned for each person after it."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
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


class NothingNewError(RefusedError):
    """A new version would say the same as the last."""


@dataclass(frozen=True, slots=True)
class Ready:
    """What a version would say: computed before anything is locked."""

    facts: Kept
    parts: dict[str, str]


def publish(
    night: TripNight, *, by: User, now: datetime, is_mailed: bool, expects: int | None = None
) -> Brief:
    """Publish what the night's brief says now, as the version after the last one.

    `expects` is the number that whoever pressed the button read there: pressed twice, or by two,
    it is published once. Errors: `RefusedError` where nothing is other than before or
    the trip is cancelled, and those of `draft_of`.
    """
    ready = ready_of(night, now=now)
    with transaction.atomic():
        return put(ready, night, by=by, now=now, is_mailed=is_mailed, expects=expects)


def ready_of(night: TripNight, *, now: datetime) -> Ready:
    """Compute what would be published. Errors: `RefusedError`, and those of `draft_of`."""
    if night.trip.status == Trip.Status.CANCELLED:
        raise RefusedError(_("This trip is cancelled: nothing is published of its nights."))
    return drafted(night, now=now)


def drafted(night: TripNight, *, now: datetime) -> Ready:
    """Compute what a version would say, whether or not one can be published. Errors: those of
    `draft_of`."""
    facts = kept_of(facts_of(draft_of(night, now=now)))
    return Ready(facts, parts_of(facts))


def put(
    ready: Ready, night: TripNight, *, by: User, now: datetime, is_mailed: bool,
    expects: int | None = None,
) -> Brief:  # fmt: skip
    """Publish what is ready, inside the transaction of the deed that it belongs to."""
    TripNight.objects.select_for_update().get(pk=night.pk)
    last = latest(night)
    if last and expects is not None and last.number != expects - 1:
        return last
    _refuse_the_same(last, ready.facts)
    brief = Brief.objects.create(
        night=night,
        number=last.number + 1 if last else 1,
        published_at=now,
        published_by=by,
        facts=ready.facts,
        parts=ready.parts,
        changes=changes(last.facts, ready.facts) if last else [],
        is_mailed=is_mailed,
    )
    note(night.trip, "brief_published", at=now, by=by, date=f"{night.date}", number=brief.number)
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


@dataclass(frozen=True, slots=True)
class News:
    """What a version published now would say: `is_any` False, the same as the last; `changes` in
    sentences, none where it would be the first."""

    is_any: bool
    changes: list[str]


def news_of(night: TripNight, facts: Facts) -> News:
    """Say what a version published now would say otherwise."""
    last, kept = latest(night), kept_of(facts)
    if last is None:
        return News(is_any=True, changes=[])
    return News(is_any=not is_same(last.facts, kept), changes=changes(last.facts, kept))


def _refuse_the_same(last: Brief | None, facts: Kept) -> None:
    if last and is_same(last.facts, facts):
        words = _("Nothing is other than in version %(number)d: there is nothing to publish.")
        raise NothingNewError(words % {"number": last.number})
