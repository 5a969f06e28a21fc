"""A published brief as somebody opens it: three queries, and nothing is computed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import Max

from trips.models import Brief, Enrolment, PersonalPlan
from trips.planning.brief.facts import Kept


@dataclass(frozen=True, slots=True)
class Reading:
    """A version with what is the reader's own laid over it. `has_plan` False: nothing is, yet."""

    number: int
    published_at: datetime
    facts: Kept
    parts: dict[str, str]
    has_plan: bool


def read(enrolment: Enrolment, evening: date) -> Reading | None:
    """Give the newest version of a night, None where none is published."""
    versions = Brief.objects.filter(night__trip=enrolment.trip_id, night__date=evening)
    brief = versions.only("number", "published_at", "facts", "parts").order_by("-number").first()
    if brief is None:
        return None
    plans = PersonalPlan.objects.filter(brief=brief, enrolment=enrolment)
    plan = plans.only("facts", "parts").first()
    return Reading(
        number=brief.number,
        published_at=brief.published_at,
        facts=brief.facts | (plan.facts if plan else {}),
        parts=brief.parts | (plan.parts if plan else {}),
        has_plan=plan is not None,
    )


@dataclass(frozen=True, slots=True)
class Published:
    """A night that can be read: its newest version and since when."""

    evening: date
    number: int
    at: datetime


def published(enrolment: Enrolment) -> list[Published]:
    """Give the nights of the trip that can be read, in their order."""
    nights = Brief.objects.filter(night__trip=enrolment.trip_id).values_list("night__date")
    # A version is never changed, and none is as late as the last.
    newest = nights.annotate(Max("number"), Max("published_at")).order_by("night__date")
    return [Published(*row) for row in newest]
