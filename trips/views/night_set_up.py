"""How to set up a tracker and a compass at the moment that a night's sky is shown at."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.utils.translation import gettext as _

from trips.almanac.local_time import clock
from trips.almanac.set_up import SetUp, set_up_of, star_words
from trips.charts.pole import PolePicture, pole_picture
from trips.models import Night
from trips.views.night_spot import SeenFrom


def night_set_up(row: Night, seen_from: SeenFrom, instant: datetime | None) -> dict[str, Any]:
    """Give the words and the picture; no instant of a night on which the Sun does not set."""
    site, spot = seen_from.site, seen_from.spot
    found = set_up_of(site, spot, row.date, instant)
    at = clock(instant, site.zone) if instant else ""
    return {
        "at": at,
        "spot": spot,
        "needle": found.needle,
        "lines": found.lines,
        "notes": found.notes,
        "picture": _picture(found, at),
    }


def _picture(found: SetUp, at: str) -> PolePicture | None:
    pole = found.pole
    if pole is None:
        return None
    return pole_picture(
        pole.star,
        pole.face_hours,
        clockwise=not pole.is_north,
        title=_("%(star)s beside the celestial pole at %(time)s") % {"star": pole.star, "time": at},
        description=star_words(pole),
    )
