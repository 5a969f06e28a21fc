"""The Milky Way: its core, its other bright parts, and the whole band as an arch.

The parts are places on the band by galactic coordinates; where each lies among the stars follows.
"""

from __future__ import annotations

from dataclasses import dataclass

from sky.errors import SkyError
from sky.galactic import icrs_of
from sky.targets.matching import nearest, plain
from sky.targets.target import Arch, FixedPoint, Kind, Listing, Target

# Common practice, no published source: lower, the haze takes it.
LEAST_ALTITUDE_DEGREES = 8.0
# Lower, the arch is a strip on the horizon; higher, no panorama holds it without folding it over.
# Common practice, no published source.
ARCH = Arch(lowest_top_degrees=20.0, highest_top_degrees=60.0)
ARCH_NAME = "Milky Way arch"

# Sagittarius A*: Reid M. J. & Brunthaler A., ApJ 616 (2004) 872; from memory. The zero of galactic
# coordinates lies 0.07° beside it, which no lens for this target shows.
CORE = FixedPoint(266.41684, -29.00781)


@dataclass(frozen=True, slots=True)
class Part:
    name: str
    point: FixedPoint
    about: str
    other_names: tuple[str, ...] = ()


# Longitudes and latitudes of the brightest clouds to whole degrees: from memory.
PARTS = {
    "core": Part(
        "Galactic core",
        CORE,
        "Milky Way, Sagittarius",
        ("galactic centre", "galactic center", "core", "Milky Way core", "Milky Way centre"),
    ),
    "scutum": Part("Scutum star cloud", icrs_of(27.0, -3.0), "Milky Way, Scutum"),
    "cygnus": Part("Cygnus star cloud", icrs_of(75.0, 1.0), "Milky Way, Cygnus", ("Cygnus arm",)),
    "anticentre": Part("Galactic anticentre", icrs_of(180.0, 0.0), "Milky Way, Auriga"),
    "carina": Part("Carina star cloud", icrs_of(287.0, -1.0), "Milky Way, Carina"),
    "crux": Part("Southern Cross", icrs_of(302.0, -1.0), "Milky Way, Crux"),
}
FIELD_DEGREES = 60.0


def target(rest: str) -> Target:
    """Give the arch or a part of the band; errors: `target_unknown`."""
    if rest == "arch":
        # It has limits of its own, which are of its top.
        return Target("milky-way:arch", ARCH_NAME, (ARCH,), "moonless", None)
    if rest not in PARTS:
        raise SkyError("target_unknown", name=rest, nearest=nearest(rest, ("arch", *PARTS)))
    part = PARTS[rest]
    return Target(f"milky-way:{rest}", part.name, (part.point,), "moonless", LEAST_ALTITUDE_DEGREES)


def search(text: str) -> list[Listing]:
    wanted = plain(text)
    return [listing for listing in offered() if wanted and wanted in _all_of(listing)]


def offered() -> list[Listing]:
    parts = [
        Listing(f"milky-way:{rest}", part.name, part.about, FIELD_DEGREES, part.other_names)
        for rest, part in PARTS.items()
    ]
    arch = Listing("milky-way:arch", ARCH_NAME, "the whole band, 20° to 60° high", 180.0)
    return [parts[0], arch, *parts[1:]]


def _all_of(listing: Listing) -> str:
    return plain(" ".join((listing.label, listing.about, *listing.other_names)))


KIND = Kind("milky-way", target, search, offered)
