"""A skyline in a sentence: where the land stands highest, and where it lets one look lowest."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from django.utils.text import get_text_list
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sky.skyline import Skyline
from trips.almanac.bearings import bearing
from trips.almanac.skylines import wide_gaps
from trips.models import Landmark

# As exact as a skyline and a top are measured by hand: common practice, no published source.
MEASURED_DEGREES = 0.5


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


def hidden_words(skyline: Skyline, landmarks: Iterable[Landmark]) -> str:
    """Ask about landmarks whose top is below the land in their direction; "" where none is."""
    hidden = []
    for one in landmarks:
        land = float(skyline.at(np.array([one.azimuth_degrees]))[0])
        if one.top_degrees < land - MEASURED_DEGREES:
            told = {"name": one.name, "top": tenths(one.top_degrees), "land": tenths(land)}
            hidden.append(_("%(name)s (%(top)s, the skyline %(land)s)") % told)
    words = ngettext(
        "The top of %(names)s is below the skyline there: is the land in front of it?",
        "The tops of %(names)s are below the skyline there: is the land in front of them?",
        len(hidden),
    )
    return words % {"names": get_text_list(hidden, _("and"))} if hidden else ""


def degrees(altitude: float) -> str:
    """Give whole degrees, with the minus of print."""
    return f"{round(altitude)}°".replace("-", "−")


def tenths(altitude: float) -> str:
    """Give degrees to a tenth, where that says more, with the minus of print."""
    return f"{round(altitude, 1):.10g}°".replace("-", "−")
