"""How high a target comes over sites, and in which part of the year it is highest at midnight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.dates import MONTHS
from django.utils.translation import gettext as _

from sky.targets.culmination import culmination
from sky.targets.target import FixedPoint, Target
from trips.almanac.places import Place, place_of
from trips.models import Site

# More sites than these are told by the highest and the lowest.
MOST_SITES = 6
EQUATOR = Place(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Reach:
    """How high a target comes at a site, apparent, and from what altitude it is wanted."""

    site: Site
    altitude_degrees: float
    least_altitude_degrees: float | None

    @property
    def is_short(self) -> bool:
        least = self.least_altitude_degrees
        return least is not None and self.altitude_degrees < least

    @property
    def words(self) -> str:
        if self.altitude_degrees < 0:
            return _("never rises")
        # Of what falls short, as much as tells 24.8 from 25.
        told = f"{self.altitude_degrees:.{1 if self.is_short else 0}f}"
        return _("%(degrees)s° up") % {"degrees": told}

    @property
    def hinders(self) -> str:
        """Say why it does not help there, where that is not said by `words`."""
        if self.altitude_degrees < 0 or not self.is_short:
            return ""
        return _("wanted from %(least)g°") % {"least": self.least_altitude_degrees}


def reach_at(target: Target, site: Site, *, year: int) -> Reach | None:
    """Tell how high a place among the stars comes; None for what moves among them."""
    point = target.points[0]
    if not isinstance(point, FixedPoint):
        return None
    found = culmination(point, place_of(site), year=year)
    return Reach(site, found.altitude_degrees, target.least_altitude_degrees)


def reaches(target: Target, sites: Sequence[Site], *, year: int) -> list[Reach]:
    """Tell it at each site, the highest first; of many, where it is highest and lowest."""
    point = target.points[0]
    if not isinstance(point, FixedPoint):
        return []
    by_height = sorted(sites, key=lambda site: abs(site.latitude - point.dec_degrees))
    told = by_height if len(sites) <= MOST_SITES else [by_height[0], by_height[-1]]
    return [one for site in told if (one := reach_at(target, site, year=year))]


def midnight_season(target: Target, *, year: int) -> str:
    """Say when a fixed target is highest at midnight ("early October"); "" for what moves."""
    point = target.points[0]
    if not isinstance(point, FixedPoint) or target.active is not None:
        return ""
    # The same at every place, to a day.
    return _part_of_month(culmination(point, EQUATOR, year=year).midnight)


def _part_of_month(day: date) -> str:
    words = (_("early %(month)s"), _("mid %(month)s"), _("late %(month)s"))
    return words[min((day.day - 1) // 10, 2)] % {"month": MONTHS[day.month]}
