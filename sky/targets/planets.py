"""The planets that are seen without a telescope."""

from __future__ import annotations

from sky.errors import SkyError
from sky.targets.matching import nearest, plain
from sky.targets.target import Body, Kind, Listing, Target

NAMES = {
    "mercury": "Mercury",
    "venus": "Venus",
    "mars": "Mars",
    "jupiter": "Jupiter",
    "saturn": "Saturn",
}
# Common practice, no published source.
LEAST_ALTITUDE_DEGREES = 5.0


def target(rest: str) -> Target:
    """Give a planet by its English name; errors: `target_unknown`."""
    if rest not in NAMES:
        raise SkyError("target_unknown", name=rest, nearest=nearest(rest, NAMES.values()))
    # A planet is bright enough for twilight, and no Moon hides it.
    return Target(f"planet:{rest}", NAMES[rest], (Body(rest),), "any", LEAST_ALTITUDE_DEGREES)


def search(text: str) -> list[Listing]:
    wanted = plain(text)
    return [listing for listing in offered() if wanted and wanted in plain(listing.label)]


def offered() -> list[Listing]:
    return [Listing(f"planet:{rest}", name, "planet") for rest, name in NAMES.items()]


KIND = Kind("planet", target, search, offered)
