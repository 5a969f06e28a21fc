"""Personal plans: made after a version is published, for everybody with a place, each once.

A plan is made in one transaction with the letter that tells of it. What is missing is found by
asking for it, so that a worker that dies leaves nothing behind that another does not finish.
"""

from __future__ import annotations

import logging
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import IntegrityError, transaction
from django.db.models import Exists, OuterRef, QuerySet, Subquery

from trips.almanac.wording import SkyError
from trips.models import Brief, Enrolment, LoanItem, PersonalPlan, TripNight, Turn
from trips.planning.brief.facts import Kept, kept_of
from trips.planning.gear import Gear
from trips.services.briefs.drafts import Draft, draft_of, facts_of
from trips.services.briefs.personal import Own, differing, personal_facts
from trips.services.briefs.rendering import parts_of
from trips.services.gear import gears_of
from trips.services.letters import queue
from trips.services.loans import kit_with_loans
from trips.services.refusals import RefusedError

logger = logging.getLogger(__name__)

Clock = Callable[[], datetime]

MOST_IN_A_SWEEP = 50
READERS = (Enrolment.State.HELD, Enrolment.State.PLACED)
# What a person reads otherwise than everybody.
PERSONAL = ("reader", "targets", "first", "rows", "texts", "glance", "help")
DRAWN_FROM_THE_NIGHT = PERSONAL[1:]
OF_A_NIGHT = ("trip__season", "trip__organisation", "spot__site", "second_spot__site")


@dataclass(frozen=True, slots=True)
class Progress:
    """How many of those with a place have a plan of a version."""

    done: int
    total: int


def progress_of(brief: Brief) -> Progress:
    readers = _readers(brief)
    return Progress(readers.filter(plans__brief=brief).count(), readers.count())


def forget_plans(enrolment: Enrolment) -> None:
    """Let a person's plans be made anew: the gear, a loan or a turn has changed."""
    PersonalPlan.objects.filter(enrolment=enrolment).delete()


def make_missing(*, clock: Clock) -> int:
    """Make the plans that newest versions of nights to come still lack; give how many."""
    made = 0
    for brief in _newest(now=clock()):
        lacking = list(_lacking(brief)[: MOST_IN_A_SWEEP - made])
        if lacking:
            made += _make(brief, lacking, clock)
        if made >= MOST_IN_A_SWEEP:
            break
    return made


def _newest(*, now: datetime) -> Iterator[Brief]:
    newest = Brief.objects.filter(night=OuterRef("night")).order_by("-number").values("number")
    found = Brief.objects.filter(night__ends_at__gt=now, number=Subquery(newest[:1]))
    related = [f"night__{name}" for name in OF_A_NIGHT]
    yield from found.select_related(*related).order_by("published_at")


def _readers(brief: Brief) -> QuerySet[Enrolment]:
    readers: QuerySet[Enrolment] = Enrolment.objects.filter(
        trip=brief.night.trip_id, state__in=READERS
    )
    return readers


def _lacking(brief: Brief) -> QuerySet[Enrolment]:
    has_one = PersonalPlan.objects.filter(brief=brief, enrolment=OuterRef("pk"))
    return _readers(brief).filter(~Exists(has_one)).select_related("person").order_by("pk")


def _make(brief: Brief, lacking: list[Enrolment], clock: Clock) -> int:
    try:
        draft = draft_of(brief.night, now=brief.published_at)
    except (RefusedError, SkyError) as error:
        # The night no longer computes as it did: people read the version without a plan.
        logger.warning("no plans of brief %s: %s", brief.pk, type(error).__name__)
        return 0
    still = {name for name, value in kept_of(facts_of(draft)).items() if brief.facts[name] == value}
    owned = _Owned.of(brief.night)
    return sum(_keep(brief, draft, owned.by(one), still, clock) for one in lacking)


def _keep(brief: Brief, draft: Draft, own: Own, still: set[str], clock: Clock) -> bool:
    """Keep what is other than in the version, and ask for the letter, both or neither."""
    facts = brief.facts | _own(kept_of(personal_facts(draft, own)), still)
    plan = PersonalPlan(
        brief=brief, enrolment=own.enrolment, made_at=clock(),
        facts=differing(facts, brief.facts), parts=differing(parts_of(facts), brief.parts),
    )  # fmt: skip
    try:
        with transaction.atomic():
            plan.save(force_insert=True)
            if brief.is_mailed:
                queue("brief", key=f"brief:{brief.pk}:{own.enrolment.pk}", trip=brief.night.trip,
                      night=brief.night, enrolment=own.enrolment, due_at=clock())  # fmt: skip
    except IntegrityError:  # another worker was quicker, or the person is gone
        return False
    return True


def _own(facts: Kept, still: set[str]) -> Kept:
    """Give what is a person's own: only beside what everybody reads as it was published, so that
    nothing comes out that nobody has published."""
    return {
        name: facts[name] for name in PERSONAL if name in still or name not in DRAWN_FROM_THE_NIGHT
    }


@dataclass(frozen=True, slots=True)
class _Owned:
    """What all people of a night have, read at once."""

    night: TripNight
    gears: Mapping[int, Gear]
    turns: Mapping[int, list[Turn]]
    kit: Sequence[LoanItem]
    lent: Mapping[int, int]

    @classmethod
    def of(cls, night: TripNight) -> _Owned:
        turns = defaultdict(list)
        for turn in Turn.objects.filter(rota__night=night).select_related("rota"):
            turns[turn.enrolment_id].append(turn)
        kit, loans = kit_with_loans(night.trip, [night.date])
        lent = {loan.item_id: loan.enrolment_id for loan in loans if loan.is_granted}
        return cls(night, gears_of(night.trip), turns, kit, lent)

    def by(self, enrolment: Enrolment) -> Own:
        free = [one for one in self.kit if self.lent.get(one.pk, enrolment.pk) == enrolment.pk]
        gear = self.gears.get(enrolment.pk, Gear()).on(self.night.date)
        return Own(enrolment, gear, self.turns.get(enrolment.pk, []), free)
