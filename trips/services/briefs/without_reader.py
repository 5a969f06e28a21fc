"""A night's brief as it is for everybody: nothing of one reader is in it."""

from __future__ import annotations

from datetime import datetime

from django.utils.translation import gettext_lazy as _

from trips.models import TripNight
from trips.services.briefs.publishing import drafted, latest
from trips.services.briefs.reading import Reading

# Said on whatever is made of a version without number.
DRAFT = _("A draft, not published: it may say otherwise yet.")


def as_published(night: TripNight) -> Reading | None:
    """Give the newest version, None where none is published."""
    brief = latest(night)
    if brief is None:
        return None
    return Reading(brief.number, brief.published_at, brief.facts, brief.parts, has_plan=False)


def as_drafted(night: TripNight, *, now: datetime) -> Reading:
    """Give what a version published now would say, with number 0. Errors: those of `draft_of`."""
    ready = drafted(night, now=now)
    return Reading(0, now, ready.facts, ready.parts, has_plan=False)
