"""Directions in the dark, counted in fists at arm's length from what is seen against the sky.

A fist at arm's length is ten degrees wide: common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterable

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.dome import Standing
from trips.almanac.bearings import compass_point
from trips.models import Landmark

FIST_DEGREES = 10.0
# Farther from every landmark, a point of the compass is found sooner.
MOST_FISTS = 5.0
LEAST_FISTS = 0.25
NUMBERS = (
    "",
    gettext_lazy("one"),
    gettext_lazy("two"),
    gettext_lazy("three"),
    gettext_lazy("four"),
    gettext_lazy("five"),
    gettext_lazy("six"),
    gettext_lazy("seven"),
    gettext_lazy("eight"),
    gettext_lazy("nine"),
)


def fists_to(standing: Standing, landmarks: Iterable[Landmark]) -> str:
    """Give "two fists left of the tower, three up", to half fists.

    To the side along the horizon, from the nearest landmark that is seen at night; then up from
    level. Without one near enough: "west-north-west, three fists up".
    """
    up = _halves(standing.altitude_degrees / FIST_DEGREES)
    found = _nearest(standing, landmarks)
    if found is None:
        told = {"point": compass_point(standing.azimuth_degrees), "up": _fists(up)}
        return _("%(point)s, %(up)s up") % told
    name, aside = found
    if abs(aside) < LEAST_FISTS:
        return _("straight above %(name)s, %(up)s up") % {"name": name, "up": _fists(up)}
    words = _("%(aside)s right of %(name)s, %(up)s up")
    if aside < 0:
        words = _("%(aside)s left of %(name)s, %(up)s up")
    return words % {"aside": _fists(_halves(abs(aside))), "name": name, "up": _count(up)}


def _nearest(standing: Standing, landmarks: Iterable[Landmark]) -> tuple[str, float] | None:
    """Give the nearest landmark to the side, and how many fists right of it that is."""
    seen = [
        (one.name, _turn(standing.azimuth_degrees - one.azimuth_degrees) / FIST_DEGREES)
        for one in landmarks
        if one.is_seen_at_night
    ]
    name, aside = min(seen, key=lambda each: abs(each[1]), default=("", 2 * MOST_FISTS))
    return (name, aside) if abs(aside) <= MOST_FISTS else None


def _turn(degrees: float) -> float:
    return (degrees + 180.0) % 360.0 - 180.0


def _halves(fists: float) -> float:
    """Round to half fists; nothing is less than half of one."""
    return max(round(fists * 2) / 2, 0.5)


def _fists(count: float) -> str:
    """Give "half a fist", "one fist", "one and a half fists"."""
    words = _("%(count)s fist") if count <= 1 else _("%(count)s fists")
    return words % {"count": _count(count)}


def _count(count: float) -> str:
    whole = int(count)
    if whole == count:
        return str(NUMBERS[whole])
    return _("%(count)s and a half") % {"count": NUMBERS[whole]} if whole else _("half a")
