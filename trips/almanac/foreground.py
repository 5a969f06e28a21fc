"""When the land in front of a spot has light for a frame of its own, in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

import numpy as np
from django.utils.translation import gettext as _
from numpy.typing import NDArray

from sky.camera.foreground import foreground_times
from trips.almanac.local_time import clock
from trips.almanac.one_night import OneNight
from trips.models import Night, Site, Spot

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Foreground:
    """When the land is lit, from and to in Unix seconds."""

    twilight: tuple[Pair, ...]
    moonlit: tuple[Pair, ...]


def foreground_words(row: Night, site: Site, spot: Spot | None) -> list[str]:
    """Give a line for twilight and one for the Moon, each where there is such a light.

    Errors: those of `OneNight`.
    """
    lit = foreground_of(site, spot, row.date)
    said = []
    if lit.twilight:
        words = _("a frame of the land in front by twilight: %(times)s")
        said.append(words % {"times": times_words(lit.twilight, site.zone)})
    if lit.moonlit:
        words = _("a frame of the land by a Moon that leaves stars: %(times)s")
        said.append(words % {"times": times_words(lit.moonlit, site.zone)})
    return said


def foreground_of(site: Site, spot: Spot | None, evening: date) -> Foreground:
    """Errors: those of `OneNight`."""
    night = OneNight(site, spot, evening)
    found = foreground_times(night.table, 0, night.place, night.skyline)
    return Foreground(_pairs(found.twilight), _pairs(found.moonlit))


def times_words(spans: Iterable[Pair], zone: str) -> str:
    return ", ".join(f"{clock(start, zone)}–{clock(end, zone)}" for start, end in spans)


def _pairs(spans: NDArray[np.float64]) -> tuple[Pair, ...]:
    return tuple((start, end) for start, end in spans.tolist())
