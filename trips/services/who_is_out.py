"""How many people of a night are still out, as the head count has them."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.local_time import clock
from trips.models import TripNight
from trips.services.head_counts import Counted, people_of


@dataclass(frozen=True, slots=True)
class Heads:
    """`here` came and were not ticked as having left since; `uncounted` were never ticked."""

    expected: int
    here: tuple[Counted, ...]
    left: int
    uncounted: int


def heads_of(night: TripNight) -> Heads:
    people = people_of(night)
    return Heads(
        expected=len(people),
        here=tuple(one for one in people if one.standing.is_here),
        left=sum(one.standing.has_left for one in people),
        uncounted=sum(one.standing.last is None for one in people),
    )


def out_in_words(heads: Heads, night: TripNight) -> str:
    """Say how many were expected, and what phones in the field have told since."""
    expected = ngettext(
        "People: %(count)d is expected, leaders counted.",
        "People: %(count)d are expected, leaders counted.",
        heads.expected,
    ) % {"count": heads.expected}
    if heads.uncounted == heads.expected:
        return f"{expected} " + _("No head count has reached the service.")
    told = _("Ticked as here and not as left: %(here)d. Ticked as left: %(left)d.") % {
        "here": len(heads.here),
        "left": heads.left,
    }
    return " ".join([expected, told, *_newest(heads, night)])


def _newest(heads: Heads, night: TripNight) -> list[str]:
    marks = [one.standing.last.at for one in heads.here if one.standing.last]
    if not marks:
        return []
    words = _("Somebody here was last ticked at %(time)s.")
    return [words % {"time": clock(max(marks), night.spot.site.zone)}]
