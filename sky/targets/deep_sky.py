"""Galaxies, clusters and nebulae: OpenNGC, with a list of our own of what suits wide lenses."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources

from sky.errors import SkyError
from sky.targets.catalogue import DeepSkyObject, catalogue, spelt
from sky.targets.matching import nearest, plain
from sky.targets.target import LIGHTS, Kind, Light, Listing, Target

# Common practice, no published source: low in the sky the air takes too much.
LEAST_ALTITUDE_DEGREES = 25.0
LIGHT: Light = "moonless"
# Common practice, no published source: an object fills a third of the picture's long side.
AXES_IN_A_FIELD = 3.0
# What a lens of 500 mm shows on a sensor 23.5 mm wide: 2 · atan(23.5 / 2 / 500).
LEAST_FIELD_DEGREES = 2.7
MOST_FOUND = 12

TYPES = {
    "*": "star",
    "**": "double star",
    "*Ass": "group of stars",
    "OCl": "open cluster",
    "GCl": "globular cluster",
    "Cl+N": "cluster with nebula",
    "G": "galaxy",
    "GPair": "pair of galaxies",
    "GTrpl": "three galaxies",
    "GGroup": "group of galaxies",
    "PN": "planetary nebula",
    "HII": "glowing nebula",
    "EmN": "glowing nebula",
    "DrkN": "dark nebula",
    "Neb": "nebula",
    "RfN": "reflection nebula",
    "SNR": "remnant of a supernova",
    "Nova": "nova",
    "Other": "object",
}


@dataclass(frozen=True, slots=True)
class Listed:
    """A row of `sky/data/deep_sky.csv`.

    `picture` says what is in the frame where that is more than the object; "" where the field
    follows the rule of `field_of`.
    """

    key: str
    name: str
    field_degrees: float
    light: Light
    picture: str


def target(rest: str) -> Target:
    """Give an object by any of its names ("M 31", "ngc224", "Andromeda Galaxy").

    Errors: `target_unknown`, with `nearest` the names that are spelt most like it.
    """
    one = find(rest)
    if one is None:
        raise SkyError("target_unknown", name=rest, nearest=nearest(rest, _spelt_names()))
    listed = starter_list().get(one.key)
    light = listed.light if listed else LIGHT
    return Target(key_of(one), name_of(one), (one.point,), light, LEAST_ALTITUDE_DEGREES)


def find(name: str) -> DeepSkyObject | None:
    """Give the object of a name, or None; what our own list calls so comes first."""
    own = _own_names().get(spelt(name))
    return catalogue().objects[own] if own else catalogue().find(name)


def search(text: str) -> list[Listing]:
    """Give the object of that very name, then those whose name has these letters in it."""
    wanted = plain(text)
    if not wanted:
        return []
    exact = find(text)
    found = [(name.find(wanted), key) for name, key in _searched() if wanted in name]
    # A name that begins so comes before one that holds it somewhere; then our own list.
    order = sorted(found, key=lambda one: (one[0] > 0, one[1] not in starter_list()))
    keys = dict.fromkeys([*([exact.key] if exact else []), *(key for _, key in order)])
    return [listing_of(catalogue().objects[key]) for key in list(keys)[:MOST_FOUND]]


def offered() -> list[Listing]:
    """Give our own list."""
    return [listing_of(catalogue().objects[key]) for key in starter_list()]


def listing_of(one: DeepSkyObject) -> Listing:
    listed, name = starter_list().get(one.key), name_of(one)
    others = tuple(each for each in one.names if each != name)
    about = [TYPES[one.type], size_of(one), brightness_of(one), listed.picture if listed else ""]
    wanted = listed.field_degrees if listed else field_of(one)
    return Listing(key_of(one), name, ", ".join(filter(None, about)), wanted, others)


def key_of(one: DeepSkyObject) -> str:
    return f"deep-sky:{one.key}"


def name_of(one: DeepSkyObject) -> str:
    """Give the name of our own list, else the catalogue's, else the best known number."""
    listed = starter_list().get(one.key)
    return listed.name if listed else one.names[0]


def size_of(one: DeepSkyObject) -> str:
    """Say how large it is ("3.0° × 1.2°", "16′"); "" where the catalogue does not."""
    if one.major_arcmin is None:
        return ""
    axes = [one.major_arcmin, one.minor_arcmin or one.major_arcmin]
    told = [f"{axis / 60:.1f}°" if axes[0] >= 60 else f"{axis:.2g}′" for axis in axes]
    return " × ".join(dict.fromkeys(told))


def brightness_of(one: DeepSkyObject) -> str:
    """Say the magnitude with its band ("V 3.4"); "" where it is not known."""
    return "" if one.magnitude is None else f"{one.band} {one.magnitude:.1f}"


def field_of(one: DeepSkyObject) -> float | None:
    """Give the field, in degrees, that an object wants by the rule: three times its long axis, and
    no less than a long lens shows. None where its size is not known."""
    if one.major_arcmin is None:
        return None
    return round(max(AXES_IN_A_FIELD * one.major_arcmin / 60, LEAST_FIELD_DEGREES), 1)


@cache
def starter_list() -> dict[str, Listed]:
    """Read `sky/data/deep_sky.csv`: what suits lenses from 14 to 500 mm, by catalogue key."""
    text = resources.files("sky").joinpath("data/deep_sky.csv").read_text("utf-8")
    return {row["key"]: _listed(row) for row in csv.DictReader(text.splitlines())}


def _listed(row: dict[str, str]) -> Listed:
    light = next((each for each in LIGHTS if each == row["light"]), LIGHT)
    return Listed(row["key"], row["name"], float(row["field_degrees"]), light, row["picture"])


@cache
def _own_names() -> dict[str, str]:
    return {spelt(one.name): key for key, one in starter_list().items()}


@cache
def _searched() -> list[tuple[str, str]]:
    """Give the names that are words, without spaces, each with the key of its object."""
    given = [(plain(name), one.key) for one in catalogue().objects.values() for name in one.common]
    return [(plain(one.name), key) for key, one in starter_list().items()] + given


@cache
def _spelt_names() -> tuple[str, ...]:
    """Give the names in which a slip can be seen: words, and the short numbers of M and C."""
    own = [one.name for one in starter_list().values()]
    every = catalogue().objects.values()
    common = (name for one in every for name in one.common)
    short = (name for one in every for name in one.designations if name[:2] in ("M ", "C "))
    return (*own, *common, *short)


KIND = Kind("deep-sky", target, search, offered)
