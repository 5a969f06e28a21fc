"""A skyline in a sentence: where the land stands highest, and where it lets one look lowest."""

from __future__ import annotations

from django.utils.text import get_text_list
from django.utils.translation import gettext as _

from sky.skyline import Skyline
from trips.almanac.bearings import bearing
from trips.almanac.skylines import wide_gaps


def skyline_words(skyline: Skyline) -> str:
    """Give "land up to 14° in the west, 270°, down to 1° in the south, 180°"."""
    if skyline.is_level:
        return _("level horizon: nobody has measured it")
    lowest = min(skyline.points, key=lambda point: point[1])
    highest = max(skyline.points, key=lambda point: point[1])
    if lowest[1] == highest[1]:
        return _("land %(altitude)s high all around") % {"altitude": degrees(highest[1])}
    return _("land up to %(high)s toward %(highest)s, down to %(low)s toward %(lowest)s") % {
        "high": degrees(highest[1]),
        "highest": bearing(highest[0]),
        "low": degrees(lowest[1]),
        "lowest": bearing(lowest[0]),
    }


def gap_words(skyline: Skyline) -> str:
    """Say where nobody measured; "" where no gap is wide enough to be doubted."""
    gaps = [
        _("between %(first)s° and %(last)s°") % {"first": f"{first:.10g}", "last": f"{last:.10g}"}
        for first, last in wide_gaps(skyline)
    ]
    if not gaps:
        return ""
    words = _("Nothing was measured %(gaps)s: the skyline is straight there.")
    return words % {"gaps": get_text_list(gaps, _("and"))}


def degrees(altitude: float) -> str:
    """Give whole degrees, with the minus of print."""
    return f"{round(altitude)}°".replace("-", "−")
