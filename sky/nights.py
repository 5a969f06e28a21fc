"""Computes a season: every night at many places as a table of arrays, one night as a row.

The arrays hold crossings of the Sun's and the Moon's levels, and hours. Spans and words are made
for the nights that somebody looks at.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from sky.altitude import (
    SAMPLE_SECONDS,
    Track,
    moon_phase,
    moon_samples,
    moon_track,
    observers,
    point_levels,
    point_samples,
    point_track,
)
from sky.clock import check_season, local_noons
from sky.constants import (
    ASTRONOMICAL_DEGREES,
    CIVIL_DEGREES,
    DEEP_TWILIGHT_DEGREES,
    NAUTICAL_DEGREES,
    POINT_RISE_SET_DEGREES,
    SUN_RISE_SET_DEGREES,
)
from sky.crossings import Crossings, find_crossings, find_extrema
from sky.ephemeris import tt_from_utc, utc_from_tt
from sky.errors import SkyError
from sky.night import DARK_LEVELS, Night, SeasonTable
from sky.place import Place
from sky.sides import Side, below_until, clock_below, evening_and_morning, locate, rows_of, side_of
from sky.spans import Span, Spans, hours, intersect

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

SUN_LEVELS = (
    SUN_RISE_SET_DEGREES,
    CIVIL_DEGREES,
    NAUTICAL_DEGREES,
    DEEP_TWILIGHT_DEGREES,
    ASTRONOMICAL_DEGREES,
)
# Sun levels that have names, with the events in the evening and in the morning.
EVENTS = {
    SUN_RISE_SET_DEGREES: ("sunset", "sunrise"),
    CIVIL_DEGREES: ("civil_dusk", "civil_dawn"),
    NAUTICAL_DEGREES: ("nautical_dusk", "nautical_dawn"),
    ASTRONOMICAL_DEGREES: ("astronomical_dusk", "astronomical_dawn"),
}
# Places whose samples are held at once: a block stays near the processor's cache.
BLOCK = 32


def compute_season(places: Sequence[Place], first: date, last: date) -> SeasonTable:
    """Compute every night named `first` to `last` at each place.

    Shapes and units are those of SeasonTable. Ordinary crossings are good to a second. What does
    not happen leaves no crossing. Errors: `season_reversed`, `season_outside`, `no_places`.
    Levels: USNO, "Rise, Set and Twilight Definitions".
    """
    check_season(first, last)
    if not places:
        raise SkyError("no_places")
    noons = np.array([local_noons(place.zone, first, last) for place in places])
    sun, moon = season_crossings(places, first, last)
    illuminated, waxing = _moon_phases(sun[SUN_RISE_SET_DEGREES], noons, first, last)
    dark_seconds, moonless_seconds = _dark_seconds(sun, moon, noons)
    return SeasonTable(
        places=tuple(places),
        first=first,
        noons=noons,
        sun=sun,
        moon=moon,
        moon_illuminated=illuminated,
        moon_waxing=waxing,
        dark_hours=dark_seconds / 3600,
        moonless_hours=moonless_seconds / 3600,
    )


def season_crossings(
    places: Sequence[Place],
    first: date,
    last: date,
    *,
    levels: Sequence[float] = SUN_LEVELS,
) -> tuple[dict[float, Crossings], Crossings]:
    """Give the Sun's crossings of each level and the Moon's rises and sets, in Unix seconds."""
    blocks = [
        _block_crossings(places[begin : begin + BLOCK], first, last, levels)
        for begin in range(0, len(places), BLOCK)
    ]
    sun = {level: _stacked([block[0][level] for block in blocks]) for level in levels}
    return sun, _stacked([block[1] for block in blocks])


def _block_crossings(
    places: Sequence[Place], first: date, last: date, levels: Sequence[float]
) -> tuple[dict[float, Crossings], Crossings]:
    seen_from = observers(places)
    sun_track = point_track("sun", first, last)
    sun = point_samples(sun_track, seen_from)
    extrema = find_extrema(sun)
    crossings = {
        level: _in_unix_seconds(
            find_crossings(sun, point_levels(sun_track, seen_from, level), extrema), sun_track
        )
        for level in levels
    }
    track = moon_track(first, last)
    moon = find_crossings(moon_samples(track, seen_from), np.zeros(len(places)))
    return crossings, _in_unix_seconds(moon, track)


def _in_unix_seconds(crossings: Crossings, track: Track) -> Crossings:
    at = utc_from_tt(track.start + crossings.at * SAMPLE_SECONDS)
    return Crossings(at, crossings.offsets, crossings.starts_above)


def _stacked(parts: Sequence[Crossings]) -> Crossings:
    if len(parts) == 1:
        return parts[0]
    starts = np.cumsum([0] + [len(part.at) for part in parts[:-1]])
    offsets = [part.offsets[:-1] + start for part, start in zip(parts, starts, strict=True)]
    at = np.concatenate([part.at for part in parts])
    return Crossings(
        at,
        np.concatenate([*offsets, [len(at)]]),
        np.concatenate([part.starts_above for part in parts]),
    )


def _dark_seconds(
    sun: dict[float, Crossings], moon: Crossings, noons: Floats
) -> tuple[Floats, Floats]:
    """Give dark and moonless seconds (level of DARK_LEVELS, place, night)."""
    rows = rows_of(noons)
    moonless_clock_at_noons = below_until(moon, noons, rows)
    dark, moonless = [], []
    for level in DARK_LEVELS:
        crossings = sun[float(level)]
        found = locate(crossings, noons, rows)
        dark.append(clock_below(crossings, found, crossings.at, noons, rows))
        moonless_clock = below_until(moon, crossings.at, crossings.rows)
        moonless.append(
            clock_below(crossings, found, moonless_clock, moonless_clock_at_noons, rows)
        )
    return np.diff(np.array(dark)), np.diff(np.array(moonless))


def _moon_phases(
    sunsets_and_sunrises: Crossings, noons: Floats, first: date, last: date
) -> tuple[Floats, NDArray[np.bool_]]:
    """Give illuminated fraction and waxing (place, night) in the middle of each night."""
    sunset, sunrise = evening_and_morning(sunsets_and_sunrises, noons)
    middle = 0.5 * (sunset + sunrise)
    middle = np.where(np.isnan(middle), 0.5 * (noons[:, :-1] + noons[:, 1:]), middle)
    tt = tt_from_utc(middle)
    phase = moon_phase(first, last)
    return phase.illuminated(tt), phase.elongation(tt) % (2 * np.pi) < np.pi


def night_of(table: SeasonTable, place: int, number: int) -> Night | None:
    """Give night `number` of a place as a row; None for a date that the zone skipped."""
    start, end = (float(noon) for noon in table.noons[place, number : number + 2])
    if start == end:
        return None
    sides = {level: side_of(crossings, place, start, end) for level, crossings in table.sun.items()}
    moon = side_of(table.moon, place, start, end)
    events, absent = _sun_events(sides)
    dark = {level: sides[float(level)].below() for level in DARK_LEVELS}
    moonless = {level: intersect(dark[level], moon.below()) for level in DARK_LEVELS}
    return Night(
        date=table.first + timedelta(days=number),
        span=Span.from_seconds(start, end),
        moonrises=moon.rises(),
        moonsets=moon.falls(),
        moon_illuminated=float(table.moon_illuminated[place, number]),
        moon_waxing=bool(table.moon_waxing[place, number]),
        dark=dark,
        moonless=moonless,
        dark_hours={level: hours(dark[level]) for level in DARK_LEVELS},
        moonless_hours={level: hours(moonless[level]) for level in DARK_LEVELS},
        absent=absent | _moon_absent(moon) | _dark_absent(dark, moonless),
        **events,
    )


SUN_WORDS = ("sun_never_sets", "sun_never_rises", "sun_already_down", "sun_still_down")
LEVEL_WORDS = ("never_that_low", "never_that_high", "already_that_low", "still_that_low")


def _sun_events(
    sides: dict[float, Side],
) -> tuple[dict[str, datetime | None], dict[str, str]]:
    events: dict[str, datetime | None] = {}
    absent: dict[str, str] = {}
    for level, (evening, morning) in EVENTS.items():
        side = sides[level]
        events[evening], events[morning] = side.evening_and_morning()
        words = SUN_WORDS if level == SUN_RISE_SET_DEGREES else LEVEL_WORDS
        throughout = words[0] if side.above else words[1]
        if events[evening] is None:
            absent[evening] = words[2] if events[morning] else throughout
        if events[morning] is None:
            absent[morning] = words[3] if events[evening] else throughout
    return events, absent


def _moon_absent(moon: Side) -> dict[str, str]:
    if not moon.crossings:
        word = "moon_never_sets" if moon.above else "moon_never_rises"
        return {"moonrise": word, "moonset": word}
    if not moon.rises():
        return {"moonrise": "moon_already_up"}
    return {} if moon.falls() else {"moonset": "moon_still_up"}


def _dark_absent(dark: dict[int, Spans], moonless: dict[int, Spans]) -> dict[str, str]:
    absent = {}
    for level in DARK_LEVELS:
        suffix = "" if level == DARK_LEVELS[0] else f"_{-level}"
        if not dark[level]:
            absent[f"dark{suffix}"] = absent[f"moonless{suffix}"] = "never_dark"
        elif not moonless[level]:
            absent[f"moonless{suffix}"] = "moon_up_while_dark"
    return absent


def risings_and_settings(
    body: str, place: Place, first: date, last: date
) -> tuple[list[datetime], list[datetime]]:
    """Give when a body rises and sets at a place between the noons of `first` and `last` + 1.

    The Sun's and Moon's levels are those of the night; a planet rises at −34′ (USNO, as above).
    """
    start, end = (float(noon) for noon in local_noons(place.zone, first, last)[[0, -1]])
    seen_from = observers([place])
    if body == "moon":
        track = moon_track(first, last)
        crossings = find_crossings(moon_samples(track, seen_from), np.zeros(1))
    else:
        track = point_track(body, first, last)
        level = SUN_RISE_SET_DEGREES if body == "sun" else POINT_RISE_SET_DEGREES
        crossings = find_crossings(
            point_samples(track, seen_from), point_levels(track, seen_from, level)
        )
    side = side_of(_in_unix_seconds(crossings, track), 0, start, end)
    return list(side.rises()), list(side.falls())
