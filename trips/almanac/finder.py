"""What helps to find a target from a spot in the dark: values for pictures, from one whole sky."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime

from sky.camera.sketch import Landmark as DrawnLandmark
from sky.finding import Finding, PointedSky
from sky.targets.kinds import target_of
from sky.targets.target import Target
from trips.almanac.fists import counted
from trips.almanac.frame import drawn_landmark
from trips.almanac.pointers import pointers_in
from trips.almanac.whole_sky import whole_sky
from trips.models import Landmark, Night, Spot


def finding(
    row: Night, spot: Spot, target: Target, instant: datetime, *, landmarks: Sequence[Landmark]
) -> Finding | None:
    """Give how a target is found, or None of one that is down or does not happen in this night.

    Errors: those of `whole_sky`.
    """
    sky = whole_sky(row, spot.site, spot, instant, [target])
    if not (sky.wanted and sky.wanted[0].standings[0].is_up):
        return None
    return Finding(sky, counted(sky.wanted[0].standings[0], landmarks), _seen(landmarks))


def pointed_sky(
    row: Night, spot: Spot, targets: Sequence[Target], instant: datetime, *,
    landmarks: Sequence[Landmark],
) -> PointedSky:  # fmt: skip
    """Give the sky with pointers to the first of the targets that has some.

    Errors: those of `whole_sky`.
    """
    sky = whole_sky(row, spot.site, spot, instant, targets)
    found = next((ways for one in sky.wanted if (ways := pointers_in(sky, one))), ())
    return PointedSky(sky, found, _seen(landmarks))


def named_target(key: str, name: str) -> Target:
    """Give a target under the name that its list has for it. Errors: those of `target_of`."""
    return replace(target_of(key), name=name)


def _seen(landmarks: Iterable[Landmark]) -> tuple[DrawnLandmark, ...]:
    return tuple(drawn_landmark(one) for one in landmarks if one.is_seen_at_night)
