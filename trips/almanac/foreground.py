"""When the land in front of a spot has light for a frame of its own, in words."""

from __future__ import annotations

import numpy as np
from django.utils.translation import gettext as _
from numpy.typing import NDArray

from sky.camera.foreground import foreground_times
from trips.almanac.local_time import clock
from trips.almanac.one_night import OneNight
from trips.models import Night, Site, Spot


def foreground_words(row: Night, site: Site, spot: Spot | None) -> list[str]:
    """Give a line for twilight and one for the Moon, each where there is such a light.

    Errors: those of `OneNight`.
    """
    night = OneNight(site, spot, row.date)
    found = foreground_times(night.table, 0, night.place, night.skyline)
    said = []
    if len(found.twilight):
        words = _("a frame of the land in front by twilight: %(times)s")
        said.append(words % {"times": _times(found.twilight, site.zone)})
    if len(found.moonlit):
        words = _("a frame of the land by a Moon that leaves stars: %(times)s")
        said.append(words % {"times": _times(found.moonlit, site.zone)})
    return said


def _times(spans: NDArray[np.float64], zone: str) -> str:
    each = (f"{clock(start, zone)}–{clock(end, zone)}" for start, end in spans.tolist())
    return ", ".join(each)
