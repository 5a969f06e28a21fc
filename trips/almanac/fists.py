"""Directions in the dark, counted in fists at arm's length from what is seen against the sky.

A fist at arm's length is ten degrees wide: common practice, no published source.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.dome import Standing
from sky.finding import Counted
from trips.almanac.bearings import compass_point
from trips.models import Landmark

FIST_DEGREES = 10.0
# Farther from every landmark, a point of the compass is found sooner.
MOST_FISTS = 5.0
LEAST_FISTS = 0.25
POINT_DEGREES = 22.5
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
    return told(counted(standing, landmarks))


def told(found: Counted) -> str:
    """Say what was counted."""
    if not found.is_landmark:
        return _("%(point)s, %(up)s up") % {"point": found.name, "up": fists(found.up)}
    if not found.aside:
        words = {"name": found.name, "up": fists(found.up)}
        return _("straight above %(name)s, %(up)s up") % words
    sentence = _("%(aside)s right of %(name)s, %(up)s up")
    if found.aside < 0:
        sentence = _("%(aside)s left of %(name)s, %(up)s up")
    # "Three up", but "half a fist up".
    up = _count(found.up) if found.up >= 1 else fists(found.up)
    return sentence % {"aside": fists(abs(found.aside)), "name": found.name, "up": up}


def counted(standing: Standing, landmarks: Iterable[Landmark]) -> Counted:
    """Count a place from the nearest landmark that is seen at night, or by the compass."""
    up, azimuth = halves(standing.altitude_degrees / FIST_DEGREES), standing.azimuth_degrees
    seen = [
        (one, turned(azimuth - one.azimuth_degrees) / FIST_DEGREES)
        for one in landmarks
        if one.is_seen_at_night
    ]
    nearest, aside = min(seen, key=lambda each: abs(each[1]), default=(None, 0.0))
    if nearest is None or abs(aside) > MOST_FISTS:
        point = round(azimuth / POINT_DEGREES) * POINT_DEGREES % 360
        return Counted(compass_point(azimuth), point, is_landmark=False, aside=0.0, up=up)
    rounded = 0.0 if abs(aside) < LEAST_FISTS else math.copysign(halves(abs(aside)), aside)
    return Counted(nearest.name, nearest.azimuth_degrees, is_landmark=True, aside=rounded, up=up)


def turned(degrees: float) -> float:
    """Give an angle between half a turn to the left and half a turn to the right."""
    return (degrees + 180.0) % 360.0 - 180.0


def halves(fists: float) -> float:
    """Round to half fists; nothing is less than half of one."""
    return max(round(fists * 2) / 2, 0.5)


def fists(count: float) -> str:
    """Give "half a fist", "one fist", "one and a half fists"."""
    words = _("%(count)s fist") if count <= 1 else _("%(count)s fists")
    return words % {"count": _count(count)}


def _count(count: float) -> str:
    whole = int(count)
    if whole == count:
        return str(NUMBERS[whole])
    return _("%(count)s and a half") % {"count": NUMBERS[whole]} if whole else _("half a")
