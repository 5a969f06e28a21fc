"""This group's targets: what its people can take with what they bring, and what lending changes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from trips.almanac.lens_tonight import Take, take
from trips.almanac.tonight import TargetTonight
from trips.models import Enrolment, Loan, LoanItem, Trip, TripNight
from trips.planning.gear import Tracker
from trips.planning.group_targets import Means, OneMore, RankedTarget, lending, ranked
from trips.services.gear import gears_of, piece_of
from trips.services.gear_nights import entries_of, tonight_of, wants_panorama
from trips.services.gear_rigs import OwnRig, carrying, rigs_of

# A tracker that the club does not have yet: it carries what people bring, and strays as the
# kind's usual figures say.
ANY_TRACKER = Tracker(payload_kg=100.0)


@dataclass(frozen=True, slots=True)
class GroupTargets:
    """Targets by their place in `targets`, people by their enrolment.

    `lent` the order in which trackers are best lent; the first `free` of them can be today.
    `silent` have said of no camera and lens what it is, and are in no count.
    """

    night: TripNight
    targets: tuple[TargetTonight, ...]
    at_other_hours: tuple[str, ...]
    rows: tuple[RankedTarget[int, int], ...]
    lent: tuple[OneMore[int, int], ...]
    free: int
    asked: tuple[int, ...]
    silent: tuple[int, ...]


def group_targets(trip: Trip, night: TripNight, people: Sequence[Enrolment]) -> GroupTargets | None:
    """Rank what is wanted of a night for the people of a trip; None where it has no sky to show.

    What is wider than a frame is taken as a panorama, by any lens that exposes it.
    """
    tonight = tonight_of(trip, night, entries_of(trip, night))
    if tonight is None:
        return None
    gears = {pk: gear.on(night.date) for pk, gear in gears_of(trip).items()}
    rigs = {one.pk: list(rigs_of(gears[one.pk])) for one in people if one.pk in gears}
    asked = [pk for pk, own in rigs.items() if own]
    free = free_trackers(trip, night)
    means = {
        n: {pk: _means(rigs[pk], target, free) for pk in asked}
        for n, target in enumerate(tonight.targets)
    }
    weights = {n: target.weight for n, target in enumerate(tonight.targets)}
    return GroupTargets(
        night=night,
        targets=tonight.targets,
        at_other_hours=tonight.at_other_hours,
        rows=ranked(means),
        lent=lending(means, weights),
        free=len(free),
        asked=tuple(asked),
        silent=tuple(pk for pk, own in rigs.items() if not own),
    )


def free_trackers(trip: Trip, night: TripNight) -> list[Tracker]:
    """Give the club's trackers that nobody has that evening."""
    items = LoanItem.objects.current().filter(organisation=trip.organisation_id, kind="tracker")
    taken = Loan.objects.filter(evening=night.date, is_granted=True, item__in=items)
    found = (piece_of(item) for item in items.exclude(pk__in=taken.values("item")))
    return [one for one in found if isinstance(one, Tracker)]


def _means(rigs: Iterable[OwnRig], target: TargetTonight, free: Sequence[Tracker]) -> Means:
    takes = [(own, take(own.rig, target)) for own in rigs]
    in_frames = wants_panorama(target.target.key, target.field_degrees)
    framed = [(own, one) for own, one in takes if one.frames or in_frames]
    if any(one.standing.is_possible for _own, one in framed):
        return Means.STANDING
    if any(_is_tracked(one) for _own, one in framed):
        return Means.OWN_TRACKER
    if any(_is_tracked(_with(own, free, target)) for own, _one in framed):
        return Means.WANTS_TRACKER
    return Means.NO_LIGHT if framed else Means.NO_LENS


def _with(own: OwnRig, free: Sequence[Tracker], target: TargetTonight) -> Take:
    tracker = carrying(free or [ANY_TRACKER], own.camera, own.lens)
    return take(replace(own.rig, tracker=tracker), target)


def _is_tracked(one: Take) -> bool:
    return one.tracked is not None and one.tracked.is_possible
