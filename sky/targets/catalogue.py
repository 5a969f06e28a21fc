"""What lies among the stars, by any of its names: OpenNGC. The only module that opens it."""

from __future__ import annotations

import math
import re
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from functools import cache
from typing import Any

import pyongc

from sky.targets.matching import plain
from sky.targets.target import FixedPoint

COLUMNS = (
    "name, type, ra, dec, const, majax, minax, vmag, bmag, messier, ngc, ic, identifiers, "
    "commonnames"
)
# Spellings of one catalogue, as `plain` leaves them, and the one that OpenNGC uses.
CATALOGUES = {
    "messier": "m",
    "caldwell": "c",
    "melotte": "mel",
    "collinder": "cl",
    "cr": "cl",
    "barnard": "b",
    "sharpless": "sh",
}
# The other catalogues of OpenNGC name faint galaxies and single stars by their positions.
KNOWN_BY = re.compile(r"(C|Cl|Mel|LBN|SH|UGC|MWSC) ?\d")
CATALOGUE_NAME = re.compile(r"([A-Z][A-Za-z]*?)0*(\d.*)")
# OpenNGC parts Serpens in two.
SERPENS = {"Se1": "Ser", "Se2": "Ser"}
NO_OBJECT = ("NonEx", "Dup")


@dataclass(frozen=True, slots=True)
class DeepSkyObject:
    """A row of OpenNGC. Sizes in arcminutes, magnitude in `band` ("V", else "B"); None: unknown.

    `key` as OpenNGC writes it (`NGC0224`), `type` in its words (`G`, `OCl`, …), `common` what
    people call it, `designations` its numbers in catalogues, the most used first.
    """

    key: str
    type: str
    point: FixedPoint
    constellation: str
    major_arcmin: float | None
    minor_arcmin: float | None
    magnitude: float | None
    band: str
    common: tuple[str, ...]
    designations: tuple[str, ...]

    @property
    def names(self) -> tuple[str, ...]:
        return self.common + self.designations


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The objects by key, and their keys by every name as `spelt` writes it."""

    objects: dict[str, DeepSkyObject]
    keys: dict[str, str]

    def find(self, name: str) -> DeepSkyObject | None:
        """Give the object of a name, or None. A duplicate's name leads to its object."""
        key = self.keys.get(spelt(name))
        return self.objects[key] if key else None


def spelt(name: str) -> str:
    """Give what all spellings of a name share: "Messier 031" and "m31" are one."""
    short = plain(name)
    letters = re.match(r"[a-z]+(?=[0-9])", short)
    prefix = letters[0] if letters else ""
    return CATALOGUES.get(prefix, prefix) + short[len(prefix) :]


@cache
def catalogue() -> Catalogue:
    """Read OpenNGC once, whole: opening the database for each name takes longer than all of it."""
    with closing(sqlite3.connect(f"file:{pyongc.DBPATH}?mode=ro", uri=True)) as database:
        rows = database.execute(f"SELECT {COLUMNS} FROM objects").fetchall()  # noqa: S608 - ours
    objects = {row[0]: _object(row) for row in rows if row[1] not in NO_OBJECT}
    keys = {spelt(key): key for key in objects}
    # Two objects may share a name ("Eagle Nebula"): it is the one that people mean more often.
    for one in sorted(objects.values(), key=_how_well_known):
        for name in one.names:
            keys.setdefault(spelt(name), one.key)
    for row in rows:
        if row[1] == "Dup":
            _lead_on(keys, row)
    return Catalogue(objects, keys)


def _object(row: tuple[Any, ...]) -> DeepSkyObject:
    key, kind, ra, dec, constellation, major, minor, visual, blue, *names = row
    messier, ngc, ic, identifiers, common = names
    return DeepSkyObject(
        key,
        kind,
        FixedPoint(math.degrees(float(ra)), math.degrees(float(dec))),
        SERPENS.get(constellation, constellation),
        _number(major),
        _number(minor),
        _number(visual) if visual is not None else _number(blue),
        "V" if visual is not None else "B",
        tuple(name.removeprefix("the ") for name in _parts(common)),
        _designations(key, messier, ngc, ic, identifiers),
    )


def _designations(key: str, messier: str, ngc: str, ic: str, others: str) -> tuple[str, ...]:
    numbers = [("M", messier), ("C", key[1:] if re.match(r"C\d", key) else "")]
    first = [f"{prefix} {int(number)}" for prefix, number in numbers if number.isdigit()]
    also = [f"{prefix} {each}" for prefix, given in (("NGC", ngc), ("IC", ic))
            for each in _parts(given)]  # fmt: skip
    known = [each for each in _parts(others) if KNOWN_BY.match(each)]
    written = [_written(each.replace(" ", "")) for each in (*also, *known)]
    return tuple(dict.fromkeys([*first, _written(key), *written]))


def _written(key: str) -> str:
    """Give a catalogue's name as people write it: NGC0224 is NGC 224."""
    read = CATALOGUE_NAME.fullmatch(key)
    return f"{read[1]} {read[2]}" if read else key


def _lead_on(keys: dict[str, str], row: tuple[Any, ...]) -> None:
    """Let the names of a duplicate lead to the object that it is."""
    messier, ngc, ic = row[9:12]
    for prefix, given in (("m", messier), ("ngc", ngc), ("ic", ic)):
        for number in _parts(given):
            key = keys.get(spelt(f"{prefix}{number}"))
            if key:
                keys.setdefault(spelt(row[0]), key)


def _how_well_known(one: DeepSkyObject) -> tuple[bool, float]:
    is_messier = any(name.startswith("M ") for name in one.designations)
    return not is_messier, 99.0 if one.magnitude is None else one.magnitude


def _parts(text: str | None) -> list[str]:
    return [part.strip() for part in (text or "").split(",") if part.strip()]


def _number(value: str | float | None) -> float | None:
    return None if value is None else float(value)
