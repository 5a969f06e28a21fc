"""A site's log of darkness as its page shows it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _

from trips.almanac.bearings import bearing
from trips.almanac.local_time import clock
from trips.almanac.readings import night_holding, overhead, toward
from trips.models import DarknessReading, Site, User
from trips.services.darkness import may_remove
from trips.services.sky_in_force import TYPED, InForce, in_force

# An outing or two; what is older is folded.
MOST_SHOWN = 12


@dataclass(frozen=True, slots=True)
class ReadingLine:
    reading: DarknessReading
    evening: date
    clock: str
    toward: str
    circumstances: str
    how: str
    by: str
    is_in_force: bool
    may_remove: bool


@dataclass(frozen=True, slots=True)
class DarknessLog:
    """`in_force` in words, "" without; `is_typed` whether the site's form says otherwise."""

    newest: Sequence[ReadingLine]
    older: Sequence[ReadingLine]
    in_force: str
    ring: str
    is_typed: bool


def darkness_log(site: Site, *, by: User, coordinates: bool) -> DarknessLog:
    readings = list(site.darkness_readings.select_related("camera", "by", "spot"))
    found = in_force(site, readings)
    lines = [
        _line(site, one, found, may_remove=may_remove(one, by, coordinates=coordinates))
        for one in readings
    ]
    return DarknessLog(
        newest=lines[:MOST_SHOWN],
        older=lines[MOST_SHOWN:],
        in_force=_zenith(site, found),
        ring=_ring(site, found),
        is_typed=site.sky_brightness is not None and not found.explains(site),
    )


def how_words(reading: DarknessReading) -> str:
    if reading.how == TYPED:
        return _("typed in the site’s form")
    if reading.camera:
        return _("test frame, %(camera)s") % {"camera": reading.camera.name}
    return str(reading.get_how_display())


def _line(site: Site, reading: DarknessReading, found: InForce, *, may_remove: bool) -> ReadingLine:
    return ReadingLine(
        reading=reading,
        evening=night_holding(reading.at, site.zone),
        clock="" if reading.how == TYPED else clock(reading.at, site.zone),
        toward=toward(reading.azimuth_degrees),
        circumstances=_circumstances(site, reading),
        how=how_words(reading),
        by=reading.by.email if reading.by else "",
        is_in_force=reading.pk in found.keys,
        may_remove=may_remove,
    )


def _circumstances(site: Site, reading: DarknessReading) -> str:
    if reading.how == TYPED:
        return ""
    is_twilight = overhead(site, reading.at).is_twilight
    said = [
        _("Moon up") if reading.moon_up else _("no Moon"),
        _("snow") if reading.snow else "",
        _("twilight") if is_twilight else "",
        _("Milky Way there") if reading.milky_way_overhead else "",
    ]
    return ", ".join(words for words in said if words)


def _zenith(site: Site, found: InForce) -> str:
    one = found.zenith
    return _dated(site, one, number_format(one.magnitude, 2)) if one else ""


def _ring(site: Site, found: InForce) -> str:
    """Say what each direction has, 30° up, with the evening that all are of."""
    if not found.ring:
        return ""
    parts = [
        f"{bearing(one.azimuth_degrees)} {number_format(one.magnitude, 2)}"
        for one in found.ring
        if one.azimuth_degrees is not None
    ]
    return _dated(site, found.ring[0], "; ".join(parts))


def _dated(site: Site, reading: DarknessReading, words: str) -> str:
    evening = date_format(night_holding(reading.at, site.zone), "j F Y")
    return _("%(words)s (%(evening)s)") % {"words": words, "evening": evening}
