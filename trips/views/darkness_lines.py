"""A site's log of darkness as its page shows it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _

from trips.almanac.bearings import compass_point
from trips.almanac.local_sky import estimated_mag
from trips.almanac.local_time import clock
from trips.almanac.readings import night_holding, overhead, toward
from trips.models import DarknessReading, Site, User
from trips.services.darkness import may_remove
from trips.services.sky_in_force import TYPED, InForce, in_force
from trips.templatetags.comparing import magnitudes

# What is older is folded, and what is older still is in the table alone.
MOST_OUTINGS, MOST_FOLDED = 4, 40


@dataclass(frozen=True, slots=True)
class ReadingLine:
    reading: DarknessReading
    toward: str
    is_in_force: bool
    may_remove: bool


@dataclass(frozen=True, slots=True)
class Outing:
    """Readings of one moment, alike but for their directions: the zenith first, then around."""

    first: DarknessReading
    evening: date
    clock: str
    circumstances: str
    note: str
    how: str
    lines: list[ReadingLine]


@dataclass(frozen=True, slots=True)
class DarknessLog:
    """`in_force` in sentences, none without; `is_typed`: the site's form says otherwise.
    `left_out` evenings and their readings are not shown."""

    newest: Sequence[Outing]
    older: Sequence[Outing]
    left_out: int
    in_force: list[str]
    is_typed: bool


def darkness_log(site: Site, *, by: User, coordinates: bool) -> DarknessLog:
    readings = list(site.darkness_readings.select_related("camera", "by", "spot"))
    found = in_force(site, readings)
    by_moment = groupby(sorted(readings, key=_place), key=_alike)
    alike = [list(same) for _key, same in by_moment]
    outings = [
        _outing(site, [_line(one, found, by, coordinates=coordinates) for one in same])
        for same in alike[: MOST_OUTINGS + MOST_FOLDED]
    ]
    return DarknessLog(
        newest=outings[:MOST_OUTINGS],
        older=outings[MOST_OUTINGS:],
        left_out=len(alike) - len(outings),
        in_force=[*_zenith(site, found), *_ring(site, found)],
        is_typed=site.sky_brightness is not None and not found.explains(site),
    )


def how_words(reading: DarknessReading) -> str:
    if reading.camera:
        return _("test frame, %(camera)s") % {"camera": reading.camera.name}
    return str(reading.get_how_display())


def _alike(reading: DarknessReading) -> tuple[object, ...]:
    """Give what the readings of an outing share, the newest first."""
    under = (reading.moon_up, reading.snow, reading.how, reading.note)
    by = (reading.by_id or 0, reading.camera_id or 0, reading.spot_id or 0)
    return (-reading.at.timestamp(), *under, *by)


def _place(reading: DarknessReading) -> tuple[object, ...]:
    azimuth = reading.azimuth_degrees
    return (*_alike(reading), -1.0 if azimuth is None else azimuth, -reading.pk)


def _line(reading: DarknessReading, found: InForce, by: User, *, coordinates: bool) -> ReadingLine:
    return ReadingLine(
        reading=reading,
        toward=toward(reading.azimuth_degrees),
        is_in_force=reading.pk in found.keys,
        may_remove=may_remove(reading, by, coordinates=coordinates),
    )


def _outing(site: Site, lines: list[ReadingLine]) -> Outing:
    first = lines[0].reading
    return Outing(
        first=first,
        evening=night_holding(first.at, site.zone),
        clock="" if first.how == TYPED else clock(first.at, site.zone),
        circumstances=_circumstances(site, first),
        note="" if first.how == TYPED else first.note,
        how=how_words(first),
        lines=lines,
    )


def _circumstances(site: Site, reading: DarknessReading) -> str:
    if reading.how == TYPED:
        return reading.note
    above = overhead(site, reading.at)
    said = [
        _("Moon up") if reading.moon_up or above.is_moon_up else _("no Moon"),
        _("snow") if reading.snow else "",
        _("twilight") if above.is_twilight else "",
    ]
    return ", ".join(words for words in said if words)


def _zenith(site: Site, found: InForce) -> Iterator[str]:
    """Say what counts at the zenith, unless the form says otherwise."""
    if found.zenith and found.explains(site):
        yield _("%(magnitude)s at the zenith, evening of %(evening)s.") % {
            "magnitude": magnitudes(found.zenith.magnitude),
            "evening": _evening(site, found.zenith),
        }


def _ring(site: Site, found: InForce) -> Iterator[str]:
    """Say which direction is the brightest and which the darkest; the table has them all."""
    by_light = sorted(found.ring, key=lambda one: one.magnitude)
    if not by_light:
        return
    names = {
        "evening": _evening(site, by_light[0]),
        "bright": _at(by_light[0]),
        "dark": _at(by_light[-1]),
    }
    words = (
        _("30° up, %(bright)s, evening of %(evening)s.")
        if len(by_light) == 1
        else _("30° up, from %(bright)s to %(dark)s, evening of %(evening)s.")
    )
    yield words % names
    if site.sky_brightness is None:
        words = _(
            "Nobody has measured overhead: it is taken to be about %(magnitude)s there, with as "
            "much skyglow as in the darkest of these directions."
        )
        yield words % {"magnitude": number_format(estimated_mag(site), 1)}


def _at(reading: DarknessReading) -> str:
    return _("%(magnitude)s in the %(point)s") % {
        "magnitude": magnitudes(reading.magnitude),
        "point": compass_point(reading.azimuth_degrees or 0.0),
    }


def _evening(site: Site, reading: DarknessReading) -> str:
    return date_format(night_holding(reading.at, site.zone), "j F Y")
