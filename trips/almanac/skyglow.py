"""The light of towns over a site, in words: always an estimate, never a magnitude by direction."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.formats import number_format
from django.utils.text import get_text_list
from django.utils.translation import gettext as _

from sky.light.skyglow import (
    COEFFICIENT,
    FARTHEST_KM,
    OTHER_COEFFICIENTS,
    Glow,
    TownGlow,
    glow_at,
)
from trips.almanac.bearings import bearing, whole_azimuth
from trips.almanac.places import Positioned, place_of

__all__ = [
    "Glow",
    "TownGlow",
    "TownLine",
    "caution_words",
    "glow_of",
    "share_of_glow",
    "strongest_words",
    "sum_words",
    "town_lines",
]

MOST_SAID = 3
LEAST_SHARE = 0.005  # what reads as less than one per cent


@dataclass(frozen=True, slots=True)
class TownLine:
    """A town as its table says it."""

    name: str
    country: str
    people: str
    where: str
    distance: str
    share: str


def glow_of(site: Positioned) -> Glow:
    """Estimate what towns add to the site's sky. Errors: see Place."""
    return glow_at(place_of(site))


def sum_words(glow: Glow) -> str:
    """Say what all towns add."""
    within = {"km": round(FARTHEST_KM)}
    if not glow.towns:
        return _("No town lies within %(km)d km: the sky is taken to be natural.") % within
    words = _("All towns within %(km)d km together add %(share)s the light of a natural sky.")
    return words % (within | {"share": _added(glow.share)})


def _added(share: float) -> str:
    """Give "about 43 % of", or "about 4.5 times" where per cent are no longer read."""
    if share < 1.5:
        return _("about %(percent)s of") % {"percent": percent(share)}
    digits = 1 if share < 9.95 else 0
    # Rounded first: number_format cuts off.
    times = number_format(round(share, digits), digits)
    return _("about %(times)s times") % {"times": times}


def strongest_words(glow: Glow) -> str:
    """Name the strongest towns; "" where there is none."""
    said = [town_words(town, glow) for town in glow.towns[:MOST_SAID]]
    return _("The strongest: %(towns)s.") % {"towns": "; ".join(said)} if said else ""


def town_words(town: TownGlow, glow: Glow) -> str:
    """Give "toward Teruel, 34 % of the glow, 62 km at 205°"."""
    if town.is_inside:
        words = _("inside %(name)s, %(share)s of the glow")
        return words % {"name": town.name, "share": share_of_glow(town, glow)}
    words = _("toward %(name)s, %(share)s of the glow, %(km)s at %(azimuth)d°")
    return words % {
        "name": town.name,
        "share": share_of_glow(town, glow),
        "km": _km(town.distance_km),
        "azimuth": whole_azimuth(town.azimuth_degrees),
    }


def town_lines(glow: Glow, most: int) -> list[TownLine]:
    return [
        TownLine(
            name=town.name,
            country=town.country,
            people=number_format(town.population, 0, force_grouping=True),
            where=_("around the site") if town.is_inside else bearing(town.azimuth_degrees),
            distance=_km(town.distance_km),
            share=share_of_glow(town, glow),
        )
        for town in glow.towns[:most]
    ]


def share_of_glow(town: TownGlow, glow: Glow) -> str:
    return percent(town.share / glow.share)


def percent(share: float) -> str:
    """Give "34 %", never "0 %" of something that is there."""
    if share < LEAST_SHARE:
        return _("less than 1\u00a0%")
    return _("%(percent)d\u00a0%%") % {"percent": round(100 * share)}


def caution_words() -> str:
    """Say what the estimate is worth."""
    words = _(
        "Estimated by Walker’s law from people and distance alone, with the coefficient %(usual)s;"
        " published ones are %(times)s times as large. It knows no lamps, no hour, no haze and no"
        " hill before a town, and adds up all towns as if each were looked at."
    )
    times = [f"{other / COEFFICIENT:.0f}" for other in OTHER_COEFFICIENTS]
    return words % {
        "usual": number_format(COEFFICIENT),
        "times": get_text_list(times, _("and")),
    }


def _km(distance: float) -> str:
    return _("%(km)d\u00a0km") % {"km": max(1, round(distance))}
