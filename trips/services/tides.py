"""Tides of a night on a coast: read in a table by an instructor, and asked for before it is
confirmed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.almanac.local_time import local
from trips.almanac.moons import spring_moons
from trips.models import Spot, TideTime, TripNight
from trips.planning.tide_rule import CoastNight, spring_moon, still_lacking


def is_coast(night: TripNight) -> bool:
    """Tell whether one of the night's spots is on a coast."""
    return any(spot.site.on_coast for spot in _spots(night))


def lacking(night: TripNight, tides: Iterable[TideTime]) -> list[str]:
    """Name what a coast night still lacks; nothing inland, or when all is typed."""
    typed = CoastNight(
        on_coast=is_coast(night),
        kinds=tuple(tide.kind for tide in tides),
        datum=night.tide_datum,
        source=night.tide_source,
        leave_by=night.leave_spot_by,
    )
    return [str(LACKING[code]()) for code in still_lacking(typed)]


def why_not_confirmed(nights: Sequence[TripNight]) -> list[str]:
    """Give a sentence for each coast night whose tides nobody has read."""
    coast = [night for night in nights if is_coast(night)]
    found = [(night, lacking(night, night.tides.all())) for night in coast]
    words = _("%(night)s is on a coast and lacks: %(what)s. Somebody must read a tide table.")
    return [
        words % {"night": date_format(night.date, "l j F Y"), "what": ", ".join(what)}
        for night, what in found
        if what
    ]


def spring_words(night: TripNight) -> str:
    """Say that the tides are large, with the Moon that makes them; "" where they are not."""
    found = spring_moon(night.meeting_at, spring_moons(night.date, night.date))
    if found is None:
        return ""
    instant, kind = found
    moon = _("new Moon") if kind == "new" else _("full Moon")
    words = _(
        "Spring tides: %(moon)s is on %(day)s. High water stands higher and low water lower than "
        "usual, and the sea comes faster."
    )
    day = local(instant, night.spot.site.zone).date()
    return words % {"moon": moon, "day": date_format(day, "j F")}


LACKING = {
    "high_water": lambda: _("high water"),
    "low_water": lambda: _("low water"),
    "tide_datum": lambda: _("the datum of the heights"),
    "tide_source": lambda: _("their source"),
    "leave_by": lambda: _("the hour by which the spot must be left"),
}


def _spots(night: TripNight) -> list[Spot]:
    return [spot for spot in (night.spot, night.second_spot) if spot is not None]
