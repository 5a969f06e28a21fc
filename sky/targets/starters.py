"""Lists to begin with: what stands well in the evenings of a season, north and south."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources
from itertools import groupby
from typing import Literal, cast

from sky.errors import SkyError
from sky.targets.kinds import all_listings

Hemisphere = Literal["north", "south"]
Season = Literal["spring", "summer", "autumn", "winter"]

# The months of each season, and the latitude that the lists are made for.
MONTHS: dict[tuple[Hemisphere, Season], tuple[int, int, int]] = {
    ("north", "spring"): (3, 4, 5),
    ("north", "summer"): (6, 7, 8),
    ("north", "autumn"): (9, 10, 11),
    ("north", "winter"): (12, 1, 2),
    ("south", "spring"): (9, 10, 11),
    ("south", "summer"): (12, 1, 2),
    ("south", "autumn"): (3, 4, 5),
    ("south", "winter"): (6, 7, 8),
}
LATITUDES: dict[Hemisphere, float] = {"north": 45.0, "south": -35.0}


@dataclass(frozen=True, slots=True)
class StarterEntry:
    """A target, what an hour of it is worth (0 to 1), and the field it wants, in degrees."""

    key: str
    weight: float
    field_degrees: float | None


@dataclass(frozen=True, slots=True)
class StarterList:
    """Targets that stand at their least altitude for two hours in the dark before 02:00 (mean
    solar time), in the middle of the season at the latitude that the list is made for; a shower
    has its peak in the season and stands so on that night.

    Planets are not in it: where they stand is another matter each year. Nor is the Moon, which is
    up somewhere on most nights and would make every night a good one.
    """

    hemisphere: Hemisphere
    season: Season
    entries: tuple[StarterEntry, ...]

    @property
    def name(self) -> str:
        return f"{self.hemisphere}-{self.season}"

    @property
    def months(self) -> tuple[int, int, int]:
        return MONTHS[self.hemisphere, self.season]


def starter_list(name: str) -> StarterList:
    """Give a list by its name ("north-spring"); errors: `starter_list_unknown` with `known`."""
    lists = {one.name: one for one in starter_lists()}
    if name not in lists:
        raise SkyError("starter_list_unknown", name=name, known=tuple(lists))
    return lists[name]


@cache
def starter_lists() -> tuple[StarterList, ...]:
    """Read `sky/data/starters.csv`."""
    text = resources.files("sky").joinpath("data/starters.csv").read_text("utf-8")
    fields = {listing.key: listing.field_degrees for listing in all_listings()}
    rows = csv.DictReader(text.splitlines())
    return tuple(
        StarterList(
            cast(Hemisphere, hemisphere),
            cast(Season, season),
            tuple(
                StarterEntry(row["key"], float(row["weight"]), fields.get(row["key"]))
                for row in group
            ),
        )
        for (hemisphere, season), group in groupby(
            rows, key=lambda row: (row["hemisphere"], row["season"])
        )
    )
