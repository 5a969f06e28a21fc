"""Windows of targets over a site's spots: computed by sky, given back as unsaved rows."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date
from typing import Any, Protocol, TypeVar, cast

from sky.errors import SkyError
from sky.night import DARK_LEVELS
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import Skyline, skyline_of
from sky.targets.kinds import target_of
from sky.targets.target import Light
from sky.windows import NO_LEAST_DEGREES, Wanted, Windows, find_windows
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.local_sky import dark_enough
from trips.almanac.packing import pack_bests, pack_spans
from trips.almanac.places import place_of
from trips.models import Site, Spot, TargetWindows

# Lights that know how dark it must be; the rows of the others are kept at no level.
LEVELLED_LIGHTS = ("moonless", "dark")
NO_LEVEL = 0


@dataclass(frozen=True, slots=True, order=True)
class WantedRow:
    """What one row of windows is of: a target, its light and least altitude, a dark level."""

    target: str
    light: str
    least_altitude_degrees: float
    dark_level: int


class Entry(Protocol):
    """An entry of a target list; what it leaves empty is as its kind has it."""

    target: str
    light: str
    least_altitude_degrees: float | None


EntryT = TypeVar("EntryT", bound=Entry)


def known(entries: Iterable[EntryT]) -> Iterator[EntryT]:
    """Leave out entries whose target is no longer in the catalogues: their list's page says so."""
    for entry in entries:
        try:
            target_of(entry.target)
        except SkyError:
            continue
        yield entry


def wanted_row(entry: Entry, dark_level: int) -> WantedRow:
    """Say which row an entry reads at a dark level. Errors: those of `target_of`."""
    target = target_of(entry.target)
    usual = target.least_altitude_degrees if entry.least_altitude_degrees is None else None
    least = entry.least_altitude_degrees if usual is None else usual
    light = entry.light or target.light
    return WantedRow(
        entry.target,
        light,
        NO_LEAST_DEGREES if least is None else least,
        dark_level if light in LEVELLED_LIGHTS else NO_LEVEL,
    )


def wanted_rows(entry: Entry) -> set[WantedRow]:
    """Name the rows of an entry at every dark level, so that another level needs no computing, and
    that of its usable dark."""
    return {wanted_row(entry, level) for level in DARK_LEVELS} | {usable_row(entry)}


def usable_row(entry: Entry) -> WantedRow:
    """Say which row has an entry's usable dark; one that needs no dark has its own alone."""
    row = wanted_row(entry, DARK_LEVELS[0])
    if row.light not in LEVELLED_LIGHTS:
        return row
    return replace(row, light="usable", dark_level=NO_LEVEL)


def windows_fingerprint(site: Site, spot: Spot | None) -> str:
    """Digest what windows at a spot depend on, beside what their row says itself, as sha256 hex."""
    inputs: list[object] = [site_fingerprint(site)]
    if spot is not None:
        inputs += [spot.latitude, spot.longitude, spot.elevation_m, spot.skyline]
    return hashlib.sha256(json.dumps(inputs).encode()).hexdigest()


def compute_windows(
    site: Site, spot: Spot | None, wanted: Sequence[WantedRow], year: int
) -> list[TargetWindows]:
    """Compute a year of windows at a spot, or at the site itself with a level horizon, as unsaved
    rows. Errors: those of Place, `skyline_of` and `target_of`."""
    table = compute_season([place_of(site)], date(year, 1, 1), date(year, 12, 31))
    found = find_windows(
        [wanted_of(row) for row in wanted],
        spot_place(site, spot),
        spot_skyline(spot),
        table,
        enough=dark_enough(site),
    )
    fingerprint = windows_fingerprint(site, spot)
    return [
        TargetWindows(
            site=site, spot=spot, year=year, fingerprint=fingerprint, **stored(row, windows)
        )
        for row, windows in zip(wanted, found, strict=True)
    ]


def stored(row: WantedRow, windows: Windows) -> dict[str, Any]:
    """Give the columns that say what the windows are of, and the windows themselves."""
    return {**asdict(row), "spans": pack_spans(windows), "bests": pack_bests(windows)}


def spot_place(site: Site, spot: Spot | None) -> Place:
    """Give where tripods stand; a spot keeps its site's time."""
    whole = place_of(site)
    if spot is None:
        return whole
    return Place(spot.latitude, spot.longitude, spot.elevation_m, whole.zone)


def spot_skyline(spot: Spot | None) -> Skyline:
    return skyline_of([tuple(point) for point in spot.skyline] if spot else [])


def wanted_of(row: WantedRow) -> Wanted:
    """Give what a row is of as sky's value. Errors: those of `target_of`."""
    level = row.dark_level or DARK_LEVELS[0]
    # A row's light was checked when its entry was saved, and is checked again by sky.
    light = cast(Light, row.light)
    return Wanted(target_of(row.target), light, row.least_altitude_degrees, level)
