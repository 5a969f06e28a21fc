"""This group's targets: how many of its people can take each, and what lent trackers change.

A tracker that is lent goes to one person for the night, who can then take all that wanted one; so
it goes to whoever gains most by it.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Generic, TypeVar

PersonT = TypeVar("PersonT", bound=Hashable)
TargetT = TypeVar("TargetT", bound=Hashable)


class Means(Enum):
    """What a person needs in order to frame a target and expose it."""

    STANDING = "standing"  # a tripod will do
    OWN_TRACKER = "own tracker"  # with the tracker that they bring or were lent
    WANTS_TRACKER = "wants tracker"  # with one, if they had it
    NO_LENS = "no lens"  # nothing that they have frames it
    NO_LIGHT = "no light"  # framed, but not even a tracker gathers enough


ABLE = (Means.STANDING, Means.OWN_TRACKER)


@dataclass(frozen=True, slots=True)
class RankedTarget(Generic[TargetT, PersonT]):
    """A target and who can take it, in the group's order; `wanting` only for want of a tracker,
    `no_lens` and `no_light` for what no tracker helps."""

    target: TargetT
    able: tuple[PersonT, ...]
    wanting: tuple[PersonT, ...]
    no_lens: tuple[PersonT, ...]
    no_light: tuple[PersonT, ...]


@dataclass(frozen=True, slots=True)
class OneMore(Generic[TargetT, PersonT]):
    """What one more lent tracker adds: to whom it goes best, and which targets they then take."""

    person: PersonT
    targets: tuple[TargetT, ...]


def ranked(
    means: Mapping[TargetT, Mapping[PersonT, Means]],
) -> tuple[RankedTarget[TargetT, PersonT], ...]:
    """Order targets by how many can take them, then by how many could with a tracker, then as
    they came."""
    rows = [_row(target, of_people) for target, of_people in means.items()]
    return tuple(sorted(rows, key=lambda row: (-len(row.able), -len(row.wanting))))


def lending(
    means: Mapping[TargetT, Mapping[PersonT, Means]],
    weights: Mapping[TargetT, float] | None = None,
) -> tuple[OneMore[TargetT, PersonT], ...]:
    """Give the order in which trackers are best lent, one for each person who gains by one.

    A target counts by its weight, 1 where none is given. What one person takes keeps nobody else
    from it, so the first k of these are the best k.
    """
    gains: dict[PersonT, list[TargetT]] = {}
    for target, of_people in means.items():
        for person, one in of_people.items():
            if one is Means.WANTS_TRACKER:
                gains.setdefault(person, []).append(target)
    worth = {
        person: sum(weights.get(target, 1.0) if weights else 1.0 for target in targets)
        for person, targets in gains.items()
    }
    order = sorted(gains, key=lambda person: -worth[person])
    return tuple(OneMore(person, tuple(gains[person])) for person in order)


def _row(target: TargetT, of_people: Mapping[PersonT, Means]) -> RankedTarget[TargetT, PersonT]:
    def whose(*means: Means) -> tuple[PersonT, ...]:
        return tuple(person for person, one in of_people.items() if one in means)

    return RankedTarget(
        target,
        able=whose(*ABLE),
        wanting=whose(Means.WANTS_TRACKER),
        no_lens=whose(Means.NO_LENS),
        no_light=whose(Means.NO_LIGHT),
    )
