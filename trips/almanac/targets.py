"""The door to targets: found by what people type, and told in words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from itertools import groupby

from django.utils.translation import gettext_lazy

from sky.errors import SkyError
from sky.targets.catalogue import catalogue
from sky.targets.kinds import BY_NAME, KINDS, all_listings, search, target_of
from sky.targets.matching import is_slip, nearest, plain
from sky.targets.starters import starter_list, starter_lists
from sky.targets.target import LIGHTS, Listing, Target
from trips.models import TargetEntry

__all__ = [
    "LIGHTS",
    "Listing",
    "SkyError",
    "Target",
    "find_target",
    "listings_by_kind",
    "suggestions",
    "target_of",
]

LONGEST_NAME = 120
MOST_SUGGESTED = 3

KIND_WORDS = {
    "position": gettext_lazy("Places among the stars"),
    "milky-way": gettext_lazy("Milky Way"),
    "moon": gettext_lazy("Moon"),
    "planet": gettext_lazy("Planets"),
    "star": gettext_lazy("Stars"),
    "pair": gettext_lazy("Close pairs"),
    "shower": gettext_lazy("Meteor showers"),
    "lunar-eclipse": gettext_lazy("Eclipses of the Moon"),
    "solar-eclipse": gettext_lazy("Eclipses of the Sun"),
    "deep-sky": gettext_lazy("Deep sky"),
}
STARTER_WORDS = {
    "north-spring": gettext_lazy("Northern spring, March to May"),
    "north-summer": gettext_lazy("Northern summer, June to August"),
    "north-autumn": gettext_lazy("Northern autumn, September to November"),
    "north-winter": gettext_lazy("Northern winter, December to February"),
    "south-spring": gettext_lazy("Southern spring, September to November"),
    "south-summer": gettext_lazy("Southern summer, December to February"),
    "south-autumn": gettext_lazy("Southern autumn, March to May"),
    "south-winter": gettext_lazy("Southern winter, June to August"),
}


@dataclass(frozen=True, slots=True)
class Starter:
    """A list to begin with: its name in addresses, in words, and of which half of the Earth."""

    name: str
    words: str
    is_northern: bool
    targets: tuple[str, ...]


def read_catalogues() -> None:
    """Read what lies among the stars now, so that no page has to wait for it."""
    catalogue()


def find_target(text: str) -> Target:
    """Give the target of a key ("deep-sky:NGC0224"), a name ("M 31") or two angles.

    Errors: `target_unknown` with `nearest`, `target_too_long`, and those of the kind.
    """
    typed = text.strip()
    if len(typed) > LONGEST_NAME:
        raise SkyError("target_too_long", length=len(typed), most=LONGEST_NAME)
    if ":" in typed and typed.partition(":")[0] in BY_NAME:
        return target_of(typed)
    meant = next(_named(typed), None)
    if meant is None:
        raise SkyError("target_unknown", name=typed, nearest=_nearest_names(typed))
    return meant


def listing_of(key: str) -> Listing | None:
    """Give how a list would offer a target; None for what no search finds."""
    name = target_of(key).name
    found = (one for text in (name, key.partition(":")[2]) for one in search(text))
    return next((one for one in found if one.key == key), None)


@lru_cache(maxsize=4096)
def typed_as(key: str) -> str:
    """Give what a person could type for a key: its name, where that leads back to it."""
    try:
        name = target_of(key).name
        return name if find_target(name).key == key else key
    except SkyError:
        return key


def listings_by_kind(text: str) -> list[tuple[str, list[Listing]]]:
    """Give what fits, each kind with its words; everything that is offered where nothing was typed.

    Errors: `target_too_long`.
    """
    typed = text.strip()
    if len(typed) > LONGEST_NAME:
        raise SkyError("target_too_long", length=len(typed), most=LONGEST_NAME)
    found = search(typed) if typed else all_listings()
    return [
        (kind_words(name), list(group))
        for name, group in groupby(found, key=lambda one: one.key.partition(":")[0])
    ]


def suggestions(text: str) -> list[str]:
    """Give the names that are spelt most like what was typed, each of which finds something."""
    return list(_nearest_names(text.strip()[:LONGEST_NAME]))


def names_to_type() -> list[str]:
    """Give what is offered unasked, by names that lead back to it."""
    return [one.label for one in all_listings()]


def kind_words(name: str) -> str:
    return str(KIND_WORDS.get(name, name))


def light_words(light: str) -> str:
    return str(TargetEntry.Light(light).label)


def usual_light(key: str) -> str:
    """Give the light in which a target is wanted where nothing else is said."""
    return target_of(key).light


def starter_words(name: str) -> str:
    """Give a list to begin with in words. Errors: `starter_list_unknown`."""
    return str(STARTER_WORDS[starter_list(name).name])


def starters() -> list[Starter]:
    return [
        Starter(
            one.name,
            starter_words(one.name),
            one.hemisphere == "north",
            tuple(target_of(entry.key).name for entry in one.entries),
        )
        for one in starter_lists()
    ]


def starter_for(latitude: float, day: date) -> str:
    """Name the list to begin with that suits a latitude in the month of a day."""
    hemisphere = "north" if latitude >= 0 else "south"
    return next(
        one.name
        for one in starter_lists()
        if one.hemisphere == hemisphere and day.month in one.months
    )


def starter_entries(name: str) -> list[TargetEntry]:
    """Give the entries of a list to begin with, unsaved. Errors: `starter_list_unknown`."""
    return [
        TargetEntry(
            target=entry.key,
            name=target_of(entry.key).name,
            field_degrees=entry.field_degrees,
            weight=entry.weight,
        )
        for entry in starter_list(name).entries
    ]


def _named(typed: str) -> Iterator[Target]:
    """Give what has this very name: in a listing, or by what a kind itself reads in it."""
    wanted = plain(typed)
    for kind in KINDS:
        for one in kind.search(typed):
            names = (one.label, *one.other_names, one.key.partition(":")[2])
            # A place is offered only for two angles, and is what they say.
            if kind.name == "position" or wanted in map(plain, names):
                yield target_of(one.key)
    for kind in KINDS:
        with suppress(SkyError):
            yield kind.make(typed)


def _nearest_names(typed: str) -> tuple[str, ...]:
    """Give names that hold what was typed, then those spelt most like it, of every kind.

    What is a letter from it comes before all: "polariss" is not the galaxy Polarissima.
    """
    holding, like = [one.label for one in search(typed)], list(_spelt_like(typed))
    slips = [name for name in like if is_slip(typed, name)]
    return tuple(dict.fromkeys([*slips, *holding, *like]))[:MOST_SUGGESTED]


def _spelt_like(typed: str) -> Iterator[str]:
    """Give names that people use, one for each target: never the keys by which a kind knows it."""
    given: set[str] = set()
    for name in nearest(typed, [*_words_offered(), *_near_of_kinds(typed)]):
        key = next((one.key for one in search(name) if _is(one, name)), None)
        if key and key not in given:
            given.add(key)
            yield name


def _words_offered() -> Iterator[str]:
    """Give what is offered by its names that are words: in a number no slip can be seen."""
    for one in all_listings():
        for name in (one.label, *one.other_names):
            if not any(letter.isdigit() for letter in name):
                yield name


def _near_of_kinds(typed: str) -> Iterator[str]:
    """Give what each kind takes for near: it knows more than it offers unasked."""
    for kind in KINDS:
        try:
            kind.make(typed)
        except SkyError as error:
            known = error.fields.get("nearest")
            yield from known if isinstance(known, tuple) else ()


def _is(listing: Listing, name: str) -> bool:
    return plain(name) in map(plain, (listing.label, *listing.other_names))
