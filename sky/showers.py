"""Showers of meteors: when they peak, where they come from, how many are seen."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from importlib.resources import files

import numpy as np

from sky.altitude import moon_phase
from sky.clock import check_season
from sky.constants import DEGREE
from sky.ephemeris import Floats, tt_from_utc
from sky.solar_longitude import instants_of
from sky.spans import Span, as_utc
from sky.targets.target import FixedPoint

# How far from its peak a shower is told of: no law of its rise and fall is shipped, so that
# nothing is said of its rate on other nights.
AROUND_PEAK = timedelta(hours=12)
# From half lit on, a Moon that is up takes most of the meteors: common practice, no published
# source.
BRIGHT_MOON = 0.5
# A year for counting days between dates that have none.
COMMON_YEAR, DAYS_OF_YEAR = 2001, 365
# The limiting magnitude that zenithal rates are stated for.
STANDARD_LIMIT = 6.5


@dataclass(frozen=True, slots=True)
class DriftDate:
    """Where a radiant stands at 0 h UTC of a date of any year; degrees, J2000."""

    month: int
    day: int
    ra_degrees: float
    dec_degrees: float


@dataclass(frozen=True, slots=True)
class Shower:
    """A shower of the working list; source: the head of data/showers.csv.

    `active` its first and last (month, day); `solar_longitude` of the peak, degrees, geometric,
    J2000; `radiant` at the peak, `drift` by date, empty where nobody tabulated it; `speed_km_s` at
    the top of the atmosphere; `population_index` r, how much more numerous meteors are one
    magnitude fainter; `zhr` meteors an hour with the radiant overhead under a 6.5 mag sky.
    """

    code: str
    name: str
    active: tuple[tuple[int, int], tuple[int, int]]
    solar_longitude: float
    radiant: FixedPoint
    speed_km_s: float
    population_index: float
    zhr: float
    is_daytime: bool
    drift: tuple[DriftDate, ...]


@dataclass(frozen=True, slots=True)
class ShowerPeak:
    """The peak of a shower in one year.

    `moon_illuminated` the Moon's geocentric fraction at that instant, 0–1. Whether the Moon is up
    is a question of the place: see sky/shower_nights.py.
    """

    code: str
    name: str
    instant: datetime
    solar_longitude: float
    zhr: float
    population_index: float
    radiant: FixedPoint
    is_daytime: bool
    moon_illuminated: float

    @property
    def span(self) -> Span:
        """Give the time that the shower is told of, 12 h on either side."""
        return Span(self.instant - AROUND_PEAK, self.instant + AROUND_PEAK)

    @property
    def has_bright_moon(self) -> bool:
        """Tell whether the Moon is half lit or more: it spoils the hours in which it is up."""
        return self.moon_illuminated >= BRIGHT_MOON


@lru_cache(maxsize=1)
def showers() -> dict[str, Shower]:
    """Give the showers by their code, in the order of the year."""
    lines = (files("sky") / "data" / "showers.csv").read_text("utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return {row["code"]: _shower(row) for row in rows}


def _shower(row: dict[str, str]) -> Shower:
    return Shower(
        code=row["code"],
        name=row["name"],
        active=(_month_day(row["active_from"]), _month_day(row["active_to"])),
        solar_longitude=float(row["solar_longitude"]),
        radiant=FixedPoint(float(row["ra"]), float(row["dec"])),
        speed_km_s=float(row["v_inf"]),
        population_index=float(row["r"]),
        zhr=float(row["zhr"]),
        is_daytime=row["daytime"] == "1",
        drift=tuple(_drift_date(text) for text in row["drift"].split(";") if text),
    )


def _drift_date(text: str) -> DriftDate:
    day, ra, dec = text.split()
    return DriftDate(*_month_day(day), float(ra), float(dec))


def _month_day(text: str) -> tuple[int, int]:
    month, day = text.split("-")
    return int(month), int(day)


def peaks(first: date, last: date) -> tuple[ShowerPeak, ...]:
    """Give the peaks between 0 h UTC of `first` and 24 h UTC of `last`, in order.

    A peak is the instant at which the Sun has the shower's geometric longitude. Observed peaks
    scatter by hours from year to year, those of broad showers by days. Errors: `season_reversed`,
    `season_outside`.
    """
    check_season(first, last)
    found = (peak for year in range(first.year, last.year + 1) for peak in _of_year(year))
    return tuple(peak for peak in found if first <= peak.instant.date() <= last)


@lru_cache(maxsize=128)
def _of_year(year: int) -> tuple[ShowerPeak, ...]:
    known = tuple(showers().values())
    unix = instants_of([shower.solar_longitude for shower in known], year)
    phase = moon_phase(date(year, 1, 1), date(year, 12, 31))
    lit = phase.illuminated(tt_from_utc(np.array(unix))).tolist()
    found = (_peak(*each) for each in zip(known, unix, lit, strict=True))
    return tuple(sorted(found, key=lambda peak: peak.instant))


def _peak(shower: Shower, unix: float, lit: float) -> ShowerPeak:
    return ShowerPeak(
        code=shower.code,
        name=shower.name,
        instant=datetime.fromtimestamp(unix, UTC),
        solar_longitude=shower.solar_longitude,
        zhr=shower.zhr,
        population_index=shower.population_index,
        radiant=shower.radiant,
        is_daytime=shower.is_daytime,
        moon_illuminated=lit,
    )


def radiant_at(shower: Shower, instant: datetime) -> FixedPoint:
    """Give where the radiant stands, J2000.

    Straight between the dates of its drift table, still before the first and after the last;
    without a table the radiant of the peak. Errors: `naive_datetime`.
    """
    if not shower.drift:
        return shower.radiant
    since = _day_of_year(as_utc(instant))
    half = DAYS_OF_YEAR // 2
    # Days from the instant to each date, by the shorter way around the year.
    days = [
        (_day_of_year(datetime(COMMON_YEAR, one.month, one.day, tzinfo=UTC)) - since + half)
        % DAYS_OF_YEAR
        - half
        for one in shower.drift
    ]
    order = np.argsort(days)
    ra = np.unwrap([shower.drift[at].ra_degrees for at in order], period=360)
    dec = [shower.drift[at].dec_degrees for at in order]
    at = np.sort(days)
    return FixedPoint(float(np.interp(0.0, at, ra)) % 360, float(np.interp(0.0, at, dec)))


def _day_of_year(instant: datetime) -> float:
    """Count days since New Year of a common year; 29 February counts as 1 March."""
    day = date(COMMON_YEAR, instant.month, 1) + timedelta(days=instant.day - 1)
    into = instant - instant.replace(hour=0, minute=0, second=0, microsecond=0)
    return (day - date(COMMON_YEAR, 1, 1)) / timedelta(days=1) + into / timedelta(days=1)


def hourly_rate(
    zhr: float,
    population_index: float,
    altitude_degrees: Floats,
    *,
    limiting_magnitude: float = STANDARD_LIMIT,
    obstruction: float = 1.0,
) -> Floats:
    """Give how many meteors one person sees an hour: HR = ZHR · sin h · r^(lm − 6.5) / F.

    `altitude_degrees` of the radiant (any shape; below the horizon none are seen);
    `limiting_magnitude` the faintest star seen; `obstruction` F = 1/(1 − k), k the share of the
    view that is covered, 1 or more. Source: the definition of the ZHR, Koschack R., Rendtel J.,
    WGN 18 (1990).
    """
    standing = np.maximum(np.sin(np.asarray(altitude_degrees) * DEGREE), 0.0)
    faintness = population_index ** (limiting_magnitude - STANDARD_LIMIT)
    result: Floats = zhr * standing * faintness / obstruction
    return result
