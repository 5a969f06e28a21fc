"""Personal plans: made after a version is published, for everybody with a place, each once.

A plan is made in one transaction with the letter that tells of it. What is missing is found by
asking for it, so that a worker that dies leaves nothing behind that another does not finish; one
at a time has a version in hand.
"""

from __future__ import annotations

import logging
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import takewhile

from django.db import IntegrityError, transaction
from django.db.models import Exists, OuterRef, QuerySet, Subquery

from trips.almanac.wording import SkyError
from trips.models import Brief, Enrolment, LoanItem, PersonalPlan, Trip, TripNight, Turn
from trips.planning.brief.facts import Kept, kept_of
from trips.planning.gear import Gear
from trips.services.briefs.drafts import Draft, draft_of, facts_of
from trips.services.briefs.in_hand import in_hand
from trips.services.briefs.mail_pictures import keep_pictures
from trips.services.briefs.personal import Own, differing, personal_facts
from trips.services.briefs.rendering import parts_of
from trips.services.gear import gear_of, gears_of
from trips.services.letters import queue
from trips.services.loans import kit_with_loans
from trips.services.refusals import RefusedError

logger = logging.getLogger(__name__)

Clock = Callable[[], datetime]

MOST_IN_A_SWEEP = 50
# What a person reads otherwise than everybody, where the rest of it is as it was published.
PERSONAL = ("targets", "first", "rows", "glance", "help")
OF_A_NIGHT = ("trip__season", "trip__organisation", "spot__site", "second_spot__site")


@dataclass(frozen=True, slots=True)
class Progress:
    """How many of those with a place have a plan of a version."""

    done: int
    total: int


def progress_of(brief: Brief) -> Progress:
    readers = _readers(brief)
    return Progress(readers.filter(plans__brief=brief).count(), readers.count())


def make_missing(*, clock: Clock) -> int:
    """Make the plans that newest versions of nights to come still lack; give how many."""
    made = 0
    for brief in _newest(now=clock()):
        if _lacking(brief).exists():
            made += _make(brief, MOST_IN_A_SWEEP - made, clock)
        if made >= MOST_IN_A_SWEEP:
            break
    return made


def _newest(*, now: datetime) -> Iterator[Brief]:
    newest = Brief.objects.filter(night=OuterRef("night")).order_by("-number").values("number")
    found = Brief.objects.filter(night__ends_at__gt=now, number=Subquery(newest[:1]))
    related = [f"night__{name}" for name in OF_A_NIGHT]
    coming = found.exclude(night__trip__status=Trip.Status.CANCELLED)
    yield from coming.select_related(*related).order_by("published_at")


def _readers(brief: Brief) -> QuerySet[Enrolment]:
    readers: QuerySet[Enrolment] = Enrolment.objects.filter(trip=brief.night.trip_id).coming()
    return readers


def _lacking(brief: Brief) -> QuerySet[Enrolment]:
    has_one = PersonalPlan.objects.filter(brief=brief, enrolment=OuterRef("pk"))
    return _readers(brief).filter(~Exists(has_one)).select_related("person").order_by("pk")


def _make(brief: Brief, most: int, clock: Clock) -> int:
    """Make plans of a version, unless another worker is at it; forget those that nobody reads any
    more."""
    with in_hand(brief, clock=clock) as hold:
        lacking = list(_lacking(brief)[:most]) if hold else []
        if hold is None or not lacking:
            return 0
        if brief.is_mailed:
            keep_pictures(brief)
        owned, planner = _Owned.of(brief.night), _Planner.of(brief)
        mine = takewhile(lambda _: hold.renew(now=clock()), lacking)
        made = sum(_keep(planner.plan(owned.by(one)), clock) for one in mine)
    older = PersonalPlan.objects.filter(brief__night=brief.night_id)
    older.filter(brief__number__lt=brief.number).delete()
    return made


@dataclass(frozen=True, slots=True)
class _Plan:
    brief: Brief
    own: Own
    facts: Kept
    parts: dict[str, str]


@dataclass(frozen=True, slots=True)
class _Planner:
    """What a version said, and the night computed anew. `still` names what is as it was published:
    nothing comes out beside it that nobody has published."""

    brief: Brief
    draft: Draft | None
    still: frozenset[str]

    @classmethod
    def of(cls, brief: Brief) -> _Planner:
        try:
            draft = draft_of(brief.night, now=brief.published_at)
            shared = kept_of(facts_of(draft))
        except (RefusedError, SkyError) as error:
            # It no longer computes as it did: people read the version as everybody does.
            logger.warning("brief %s is not planned: %s", brief.pk, type(error).__name__)
            return cls(brief, None, frozenset())
        still = frozenset(name for name in PERSONAL if brief.facts[name] == shared[name])
        return cls(brief, draft, still)

    def plan(self, own: Own) -> _Plan:
        """Give what is other for a person than in the version."""
        brief = self.brief
        facts = brief.facts | self._own(own)
        rendered = parts_of(facts)
        own_facts, own_parts = differing(facts, brief.facts), differing(rendered, brief.parts)
        return _Plan(brief, own, own_facts, own_parts)

    def _own(self, own: Own) -> Kept:
        reader: Kept = {"reader": own.enrolment.person.name}
        if self.draft is None:
            return reader
        facts = kept_of(personal_facts(self.draft, own))
        turn = {"turn": facts["texts"]["turn"]}
        kept = {name: facts[name] for name in self.still}
        return reader | kept | {"texts": self.brief.facts["texts"] | turn}


def _keep(plan: _Plan, clock: Clock) -> bool:
    """Keep a plan and ask for the letter, both or neither."""
    brief, enrolment = plan.brief, plan.own.enrolment
    try:
        with transaction.atomic():
            if not _is_still(plan.own, brief.night):
                return False
            PersonalPlan.objects.create(
                brief=brief, enrolment=enrolment, made_at=clock(),
                facts=plan.facts, parts=plan.parts,
            )  # fmt: skip
            if brief.is_mailed:
                queue("brief", key=f"brief:{brief.pk}:{enrolment.pk}", trip=brief.night.trip,
                      night=brief.night, enrolment=enrolment, due_at=clock())  # fmt: skip
    except IntegrityError:  # another worker was quicker
        return False
    return True


def _is_still(own: Own, night: TripNight) -> bool:
    """Tell whether a person still has what the plan was made from; held until it is kept."""
    now = Enrolment.objects.select_for_update(of=("self",)).select_related("person")
    found = now.filter(pk=own.enrolment.pk).coming().first()
    if found is None:
        return False
    before, after = own.enrolment.person, found.person
    return (
        (before.name, before.units) == (after.name, after.units)
        and gear_of(found).on(night.date) == own.gear
        and _told(_turns(night).filter(enrolment=found)) == _told(own.turns)
    )


def _turns(night: TripNight) -> QuerySet[Turn]:
    turns: QuerySet[Turn] = Turn.objects.filter(rota__night=night).select_related("rota")
    return turns


def _told(turns: Sequence[Turn] | QuerySet[Turn]) -> list[tuple[object, ...]]:
    return [(one.rota.what, one.starts_at, one.ends_at, one.station) for one in turns]


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
        for turn in _turns(night):
            turns[turn.enrolment_id].append(turn)
        kit, loans = kit_with_loans(night.trip, [night.date])
        lent = {loan.item_id: loan.enrolment_id for loan in loans if loan.is_granted}
        return cls(night, gears_of(night.trip), turns, kit, lent)

    def by(self, enrolment: Enrolment) -> Own:
        free = [one for one in self.kit if self.lent.get(one.pk, enrolment.pk) == enrolment.pk]
        gear = self.gears.get(enrolment.pk, Gear()).on(self.night.date)
        return Own(enrolment, gear, self.turns.get(enrolment.pk, []), free)
