"""Go or no-go and the brief that says so, in one press: both are done, or neither."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.local_time import clock
from trips.almanac.wording import SkyError, sentence
from trips.models import Brief, Enrolment, Trip, TripNight, User
from trips.services.briefs.publishing import NothingNewError, Ready, latest, put, ready_of
from trips.services.go_no_go import decide
from trips.services.letter_kinds.written import named
from trips.services.refusals import RefusedError

Decision = TripNight.Decision


@dataclass(frozen=True, slots=True)
class Decided:
    """What a press did. `is_news` False: it was decided so before, and nobody is written to again;
    `coming` people are, unless they have met. `brief` is what people read now, `is_published`
    where it came with the press."""

    night: TripNight
    is_news: bool
    coming: int
    have_met: bool
    brief: Brief | None
    is_published: bool


def decide_and_publish(
    night: TripNight, decision: str, *, seen: str | None, publishes: bool, by: User, now: datetime
) -> Decided:
    """Decide, and publish the version that says so; without `publishes` decide alone.

    `seen` is the decision that stood on the page of whoever pressed: whom another one overtook
    looks again. Errors: `RefusedError`; then nothing is done.
    """
    _refuse_over(night, now)
    ready = _ready_as(night, decision, now=now) if publishes else None
    with transaction.atomic():
        before = TripNight.objects.select_for_update().get(pk=night.pk)
        _refuse_overtaken(before, decision, seen)
        decide(night, decision, by=by, now=now)
        is_published = ready is not None and _is_put(ready, night, by=by, now=now)
        return Decided(
            night=night,
            is_news=before.decision != decision,
            coming=Enrolment.objects.filter(trip=night.trip_id).coming().count(),
            have_met=night.meeting_at <= now,
            brief=latest(night),
            is_published=is_published,
        )


def decided_words(done: Decided) -> str:
    """Say what was decided, who is written to, and what people read now."""
    return " ".join([_told(done.night), _written_to(done), *_read(done)])


def decision_words(night: TripNight) -> str:
    words = {
        Decision.OPEN: _("Not decided."),
        Decision.GO: _("We go."),
        Decision.SECOND: _("We go to the second spot."),
        Decision.NO_GO: _("We do not go."),
    }
    return words[Decision(night.decision)]


def decider(night: TripNight) -> str:
    """Give the name of who decided."""
    return night.decided_by.called if night.decided_by else _("Somebody who leads")


def _told(night: TripNight) -> str:
    if night.decision == Decision.OPEN:
        return _("Taken back: it is open again whether we go.")
    if night.decision == Decision.SECOND and night.second_spot:
        return _("Decided: we go to %(spot)s.") % {"spot": named(night.second_spot.name)}
    return _("Decided: %(what)s") % {"what": decision_words(night)}


def _written_to(done: Decided) -> str:
    if not done.is_news:
        return _("It was decided so before: nobody is mailed again.")
    if not done.coming:
        return _("Nobody has a place yet: nobody is mailed.")
    if done.have_met:
        return _("People have met by now and are not mailed: tell them yourself.")
    return ngettext(
        "%(n)d person with a place is mailed at once.",
        "%(n)d people with a place are mailed at once.",
        done.coming,
    ) % {"n": done.coming}


def _read(done: Decided) -> Iterator[str]:
    if done.brief is None:
        yield _("No brief is published: nobody can read one yet.")
        return
    number = {"number": done.brief.number}
    if done.is_published:
        yield _("Version %(number)d is published and says so.") % number
    elif done.brief.facts["glance"]["state"] == done.night.decision:
        yield _("Version %(number)d, which people read, says so already.") % number
    else:
        yield _("People still read version %(number)d, which does not say so.") % number


def _refuse_over(night: TripNight, now: datetime) -> None:
    if night.trip.status == Trip.Status.CANCELLED:
        raise RefusedError(_("This trip is cancelled: there is nothing left to decide."))
    if night.ends_at <= now:
        raise RefusedError(_("This night is over: there is nothing left to decide."))


def _refuse_overtaken(before: TripNight, decision: str, seen: str | None) -> None:
    if seen is None or before.decision in (seen, decision):
        return
    if before.decided_at is None:
        raise RefusedError(
            _("The decision was taken back while you looked. Look again, then press once more.")
        )
    words = _(
        "%(by)s decided at %(time)s, while you looked: %(what)s Speak with each other, then press "
        "once more."
    )
    at = clock(before.decided_at, before.spot.site.zone)
    what = {"by": named(decider(before)), "time": at, "what": decision_words(before)}
    raise RefusedError(words % what)


def _ready_as(night: TripNight, decision: str, *, now: datetime) -> Ready:
    """Compute the brief as if it were decided so already."""
    night.decision = decision
    try:
        return ready_of(night, now=now)
    except SkyError as error:
        why = sentence(error)
    except RefusedError as error:
        why = error.sentence
    alone = _("Nothing is decided: take the tick away to decide without publishing.")
    raise RefusedError(f"{why} {alone}")


def _is_put(ready: Ready, night: TripNight, *, by: User, now: datetime) -> bool:
    """Publish; False where the last version says all of it already."""
    try:
        with transaction.atomic():
            put(ready, night, by=by, now=now, is_mailed=False)
    except NothingNewError:
        return False
    return True
