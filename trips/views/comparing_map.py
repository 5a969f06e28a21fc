"""The map of a comparison: sites as dots, the towns that light them as squares.

Left off, and said: sites whose position is sensitive, and those too far from most of the others.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, hypot, radians

from trips.almanac.skyglow import TownGlow, glow_of, share_of_glow
from trips.charts.map import KM_A_DEGREE, OnMap, SiteMap, east_or_west, north_or_south, site_map
from trips.models import Site
from trips.templatetags.comparing import MOST_IN_A_LIST, isolated

LINKED_KM = 300.0
MOST_TOWNS, TOWNS_A_SITE = 16, 3
LEAST_SHARE = 0.05  # of the glow of a site


@dataclass(frozen=True, slots=True)
class LitSite:
    """A site with the towns that light it most: names with their shares."""

    site: Site
    towns: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Whereabouts:
    chart: SiteMap
    said: str
    lit: list[LitSite]
    sensitive: list[Site]
    far: list[Site]


def whereabouts(sites: Sequence[Site]) -> Whereabouts | None:
    """Give the map; None where no site may be shown."""
    shown, far = _together([site for site in sites if not site.position_is_sensitive])
    first = shown[0].longitude if shown else 0.0
    chart = site_map(
        [OnMap(one.name, one.latitude, _beside(first, one.longitude)) for one in shown],
        [
            OnMap(one.name, one.latitude, _beside(first, one.longitude), one.population)
            for one in _towns(shown)
        ],
    )
    if chart is None:
        return None
    sensitive = [site for site in sites if site.position_is_sensitive]
    return Whereabouts(chart, _said(shown), [_lit(site) for site in shown], sensitive, far)


def _said(sites: Sequence[Site]) -> str:
    """Say where the first of the sites lie."""
    return "; ".join(
        f"{isolated(one.name)}: {north_or_south(round(one.latitude, 1))},"
        f" {east_or_west(round(one.longitude, 1))}"
        for one in sites[:MOST_IN_A_LIST]
    )


def _together(sites: Sequence[Site]) -> tuple[list[Site], list[Site]]:
    """Give the most sites that lie in reach of one another, step by step; and the others."""
    left, groups = list(sites), []
    while left:
        group, new = [], [left.pop(0)]
        while new:
            group += new
            new = [site for site in left if any(_km(site, other) <= LINKED_KM for other in new)]
            left = [site for site in left if site not in new]
        groups.append(group)
    most = max(groups, key=len, default=[])
    return [site for site in sites if site in most], [site for site in sites if site not in most]


def _km(one: Site, other: Site) -> float:
    """Give a distance as the map has it."""
    north = one.latitude - other.latitude
    east = _beside(one.longitude, other.longitude) - one.longitude
    return KM_A_DEGREE * hypot(north, east * cos(radians((one.latitude + other.latitude) / 2)))


def _beside(longitude: float, other: float) -> float:
    """Turn a longitude so that it lies within half a round of another."""
    return longitude + (other - longitude + 180) % 360 - 180


def _towns(sites: Iterable[Site]) -> list[TownGlow]:
    """Give the towns that light any of the sites, those that light one the most first."""
    found: dict[tuple[float, float], TownGlow] = {}
    for site in sites:
        for town in _strongest(site):
            at = (town.latitude, town.longitude)
            if at not in found or town.share > found[at].share:
                found[at] = town
    return sorted(found.values(), key=lambda town: -town.share)[:MOST_TOWNS]


def _strongest(site: Site) -> list[TownGlow]:
    glow = glow_of(site)
    return [one for one in glow.towns[:TOWNS_A_SITE] if one.share >= LEAST_SHARE * glow.share]


def _lit(site: Site) -> LitSite:
    glow = glow_of(site)
    return LitSite(site, tuple((one.name, share_of_glow(one, glow)) for one in _strongest(site)))
