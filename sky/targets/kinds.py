"""The kinds of target, listed once: keys and names to targets, whatever their kind."""

from __future__ import annotations

from collections.abc import Sequence

from sky.errors import SkyError
from sky.targets import (
    deep_sky,
    lunar_eclipses,
    milky_way,
    moon,
    named_stars,
    pairs,
    planets,
    positions,
    showers,
)
from sky.targets.target import Kind, Listing, Target

KINDS: tuple[Kind, ...] = (
    positions.KIND,
    milky_way.KIND,
    moon.KIND,
    planets.KIND,
    named_stars.KIND,
    deep_sky.KIND,
    showers.KIND,
    lunar_eclipses.KIND,
    pairs.KIND,
)
BY_NAME = {kind.name: kind for kind in KINDS}


def target_of(key: str) -> Target:
    """Give the target of a key "kind:rest".

    Errors: `target_kind_unknown`, and those of the kind: `target_unknown` with `nearest`.
    """
    name, _, rest = key.partition(":")
    if name not in BY_NAME:
        raise SkyError("target_kind_unknown", key=key, known=tuple(BY_NAME))
    return BY_NAME[name].make(rest)


def search(text: str) -> list[Listing]:
    """Give the listings of every kind that fit what a person typed, kind by kind."""
    return [listing for kind in KINDS for listing in kind.search(text)]


def all_listings(kinds: Sequence[Kind] = KINDS) -> list[Listing]:
    """Give what each kind offers unasked."""
    return [listing for kind in kinds for listing in kind.all()]
