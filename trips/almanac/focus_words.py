"""What to focus on, and how, in words. How it is done is common practice, no published source."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.dome import Standing
from trips.almanac.bearings import distance, height, whole_azimuth
from trips.almanac.fists import fists_to
from trips.almanac.focus import FocusPlan, FocusStop, FocusTarget, far_enough_for
from trips.almanac.local_time import clock
from trips.almanac.whole_sky_words import briefly
from trips.models import Landmark

BEGINNINGS = {
    "dusk": gettext_lazy("First at nautical dusk, %(at)s."),
    "wanted": gettext_lazy("First at %(at)s, when a wanted target stands right."),
    "out": gettext_lazy("First at %(at)s, when you come out: by then it is dark enough."),
    "night": gettext_lazy("At any hour: the Sun stays down far enough for stars."),
}
LACKING = {
    "never_dark": gettext_lazy("It does not get dark enough for stars: focus by day."),
    "over_before_dusk": gettext_lazy("You are back before it is dark enough: focus by day."),
}
STEPS = (
    gettext_lazy(
        "Set the lens to manual and wide open, and bring the star into the middle of the screen,"
        " magnified as far as it goes."
    ),
    gettext_lazy(
        "Turn the ring slowly until the star is as small as it gets: a little past it, and back."
    ),
    gettext_lazy("Take a test frame and look at its stars magnified."),
    gettext_lazy(
        "Tape the ring and leave it alone. A zoom is focused anew whenever it has been turned."
    ),
    gettext_lazy(
        "Look again when it has become colder, and at the times of this table: a lens that cools"
        " shifts its focus."
    ),
)


@dataclass(frozen=True, slots=True)
class Aimed:
    """A star or planet as a row tells it: `fists` first, whole degrees beneath."""

    name: str
    magnitude: str
    fists: str
    degrees: str
    until: str


@dataclass(frozen=True, slots=True)
class FocusRow:
    """A stop: what is taken, None where nothing stands right, and what else there is."""

    at: str
    first: Aimed | None
    others: str


def beginning_words(plan: FocusPlan, zone: str) -> str:
    """Say from when on, and by what; or why not at all."""
    if plan.lacking:
        return str(LACKING[plan.lacking])
    return BEGINNINGS[plan.begins] % {"at": clock(plan.stops[0].at, zone)}


def focus_rows(plan: FocusPlan, landmarks: Sequence[Landmark], zone: str) -> list[FocusRow]:
    return [_row(stop, landmarks, zone) for stop in plan.stops]


def star_name(target: FocusTarget) -> str:
    return _(target.name)


def _row(stop: FocusStop, landmarks: Sequence[Landmark], zone: str) -> FocusRow:
    first, *others = stop.targets or (None,)
    return FocusRow(
        clock(stop.at, zone),
        _aimed(first, landmarks, zone) if first else None,
        "; ".join([*map(_in_short, filter(None, others)), *_moon(stop)]),
    )


def _aimed(target: FocusTarget, landmarks: Sequence[Landmark], zone: str) -> Aimed:
    return Aimed(
        star_name(target),
        _magnitude(target),
        fists_to(target.standing, landmarks),
        _degrees(target.standing),
        clock(target.until, zone) if target.until else "",
    )


def _degrees(standing: Standing) -> str:
    return _("toward %(azimuth)d°, %(height)s high") % {
        "azimuth": whole_azimuth(standing.azimuth_degrees),
        "height": height(standing.altitude_degrees),
    }


def _in_short(target: FocusTarget) -> str:
    return _("%(name)s (%(magnitude)s), %(where)s") % {
        "name": _(target.name),
        "magnitude": _magnitude(target),
        "where": briefly(target.standing),
    }


def _moon(stop: FocusStop) -> list[str]:
    if stop.moon is None:
        return []
    return [_("the edge of the Moon, %(where)s") % {"where": briefly(stop.moon)}]


def _magnitude(target: FocusTarget) -> str:
    return f"{target.magnitude:.1f}".replace("-", "−")


def by_day_words(landmarks: Sequence[Landmark]) -> str:
    """Say what to focus on before dark: the farthest thing that has a distance."""
    far = max(
        ((one.distance_m, one.name) for one in landmarks if one.distance_m is not None),
        default=None,
    )
    if far is None:
        return _(
            "No landmark of this spot has a distance yet: take a hill or a mast kilometres away."
        )
    metres, name = far
    longest = far_enough_for(metres)
    words = _(
        "The farthest landmark with a distance here is %(name)s, %(distance)s away: far enough for"
        " lenses to %(focal)s mm at f/2.8; a longer one wants a hill or a mast kilometres away."
    )
    if longest is None:
        words = _(
            "The farthest landmark with a distance here is %(name)s, %(distance)s away, and that is"
            " too near: take a hill or a mast kilometres away."
        )
    return words % {"name": name, "distance": distance(metres), "focal": longest}
