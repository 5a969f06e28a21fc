"""The Moon, where it is itself the picture."""

from __future__ import annotations

from sky.errors import SkyError
from sky.targets.matching import nearest, plain
from sky.targets.target import Body, Kind, Listing, Target

REST, NAME = "moon", "Moon"
# Common practice, no published source.
LEAST_ALTITUDE_DEGREES = 5.0


def target(rest: str) -> Target:
    """Give the Moon; errors: `target_unknown`."""
    if plain(rest) != REST:
        raise SkyError("target_unknown", name=rest, nearest=nearest(rest, [NAME]))
    return Target(f"moon:{REST}", NAME, (Body("moon"),), "any", LEAST_ALTITUDE_DEGREES)


def search(text: str) -> list[Listing]:
    wanted = plain(text)
    return offered() if wanted and wanted in REST else []


def offered() -> list[Listing]:
    return [Listing(f"moon:{REST}", NAME, "0.5° wide, at every phase")]


KIND = Kind("moon", target, search, offered)
