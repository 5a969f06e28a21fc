"""Showers and eclipses as plain records for JSON and CSV: UTC, rounded to the second."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime
from typing import Any

from sky.eclipses.discs import Contact
from sky.eclipses.local import local_circumstances
from sky.eclipses.lunar import LunarEclipse, lunar_eclipses, seen_from
from sky.eclipses.solar import SolarEclipse, solar_eclipses
from sky.place import Place
from sky.shower_nights import ShowerNight, nights_of_peaks
from sky.showers import ShowerPeak, peaks

Record = dict[str, Any]

LUNAR_CONTACTS = ("P1", "U1", "U2", "U3", "U4", "P4")
SOLAR_CONTACTS = ("C1", "C2", "C3", "C4")


def shower_records(year: int, place: Place | None) -> list[Record]:
    """Give the peaks of a year, in order, each with its night and its hourly rate.

    With a place: the night whose noons hold the peak, and the rate when the radiant stands highest
    in the dark, None where it is not up then or comes by day. Without: the date in UTC and the
    zenithal rate. Errors: `season_outside`.
    """
    found = peaks(date(year, 1, 1), date(year, 12, 31))
    if place is None:
        return [_shower(peak, peak.instant.date(), peak.zhr) for peak in found]
    return [
        _shower(seen.peak, seen.night, None if seen.peak.is_daytime else seen.rate)
        for seen in nights_of_peaks(found, place)
    ]


def _shower(peak: ShowerPeak, night: date, rate: float | None) -> Record:
    return {
        "code": peak.code,
        "name": peak.name,
        "peak": _time(peak.instant),
        "night": night.isoformat(),
        "rate": None if rate is None else round(rate, 1),
    }


def by_day(year: int) -> list[str]:
    """Give the names of the showers of a year that come by day."""
    return [peak.name for peak in peaks(date(year, 1, 1), date(year, 12, 31)) if peak.is_daytime]


def spoilt(year: int, place: Place | None) -> list[str]:
    """Give the names of the showers whose peak a bright Moon spoils.

    Without a place: where the Moon is bright at the peak, up or not.
    """
    found = [peak for peak in peaks(date(year, 1, 1), date(year, 12, 31)) if not peak.is_daytime]
    if place is None:
        return [peak.name for peak in found if peak.has_bright_moon]
    seen: Iterable[ShowerNight] = nights_of_peaks(tuple(found), place)
    return [one.peak.name for one in seen if one.is_spoilt]


def eclipse_records(first: date, last: date, place: Place | None) -> list[Record]:
    """Give the eclipses of Moon and Sun of some UTC dates, in order of their greatest.

    `contacts` by name, None where they do not happen, or, for the Sun, where no place is asked.
    `visible` with a place: the moments, in order, at which the Moon or the Sun stands above its
    level horizon; None without one. Errors: `season_reversed`, `season_outside`.
    """
    moon = [_lunar(one, place) for one in lunar_eclipses(first, last)]
    sun = [_solar(one, place) for one in solar_eclipses(first, last)]
    return sorted(moon + sun, key=lambda record: record["greatest"])


def negligible(first: date, last: date) -> list[date]:
    """Give the dates of eclipses of the Moon that are too slight for anybody to see."""
    return [one.greatest.date() for one in lunar_eclipses(first, last) if one.is_negligible]


def _lunar(eclipse: LunarEclipse, place: Place | None) -> Record:
    seen = None if place is None else seen_from(eclipse, place)
    is_umbral = eclipse.type != "penumbral"
    return {
        "kind": "lunar",
        "type": eclipse.type,
        "greatest": _time(eclipse.greatest),
        "contacts": _contacts(LUNAR_CONTACTS, eclipse.contacts),
        "visible": None if seen is None else _visible(seen),
        "magnitude": round(
            eclipse.umbral_magnitude if is_umbral else eclipse.penumbral_magnitude, 4
        ),
    }


def _solar(eclipse: SolarEclipse, place: Place | None) -> Record:
    seen = None if place is None else local_circumstances(eclipse, place)
    moments = () if seen is None else seen.contacts
    return {
        "kind": "solar",
        "type": eclipse.type,
        "greatest": _time(eclipse.greatest),
        "contacts": _contacts(SOLAR_CONTACTS, {one.name: one.instant for one in moments}),
        "visible": None if place is None else _visible(moments),
        "magnitude": None if seen is None else round(seen.magnitude, 4),
    }


def _contacts(names: Iterable[str], moments: Mapping[str, datetime]) -> Record:
    return {name: _time(moments[name]) if name in moments else None for name in names}


def _visible(contacts: Iterable[Contact]) -> list[str]:
    return [one.name for one in contacts if one.is_visible]


def _time(instant: datetime) -> str:
    return datetime.fromtimestamp(round(instant.timestamp()), UTC).isoformat()
