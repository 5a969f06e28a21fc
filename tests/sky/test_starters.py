"""Lists to begin with: their targets stand well in the evenings of their season."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from sky.errors import SkyError
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL
from sky.targets.kinds import target_of
from sky.targets.starters import LATITUDES, MONTHS, StarterList, starter_list, starter_lists
from sky.windows import Wanted, find_windows

NAMES = [one.name for one in starter_lists()]


def evening_hours(key: str, of: StarterList) -> float:
    """Give the most hours in the dark before 02:00: the rule. A shower has its night in the season,
    everything else is asked on the 15th of the middle month."""
    place = Place(LATITUDES[of.hemisphere], 0.0, 0.0, "UTC")
    first, last = season_of(of) if key.startswith("shower:") else (middle_of(of), middle_of(of))
    wanted = Wanted.as_usual(target_of(key))
    in_any_moon = Wanted(wanted.target, "dark", wanted.least_altitude_degrees)
    table = compute_season([place], first, last)
    (windows,) = find_windows([in_any_moon], place, LEVEL, table)
    hours = np.zeros(table.nights)
    two = table.noons[0][windows.night] + 14 * 3600
    early = np.minimum(windows.spans, two[:, None])
    np.add.at(hours, windows.night, (early[:, 1] - early[:, 0]) / 3600)
    return float(hours.max())


def middle_of(of: StarterList) -> date:
    return date(2027, of.months[1], 15)


def season_of(of: StarterList) -> tuple[date, date]:
    around = timedelta(days=45)
    return middle_of(of) - around, middle_of(of) + around


def test_there_is_a_list_for_each_season_of_both_hemispheres() -> None:
    assert {(one.hemisphere, one.season) for one in starter_lists()} == set(MONTHS)


@pytest.mark.parametrize("name", NAMES)
def test_a_list_has_eight_to_fifteen_targets_once_each(name: str) -> None:
    keys = [entry.key for entry in starter_list(name).entries]
    assert 8 <= len(keys) <= 15
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("name", NAMES)
def test_a_list_mixes_kinds_and_the_milky_way_is_among_them(name: str) -> None:
    kinds = {target_of(entry.key).kind for entry in starter_list(name).entries}
    assert {"milky-way", "deep-sky"} <= kinds


@pytest.mark.parametrize("name", NAMES)
def test_a_list_has_weights_with_a_best_and_says_every_field(name: str) -> None:
    entries = starter_list(name).entries
    assert max(entry.weight for entry in entries) == 1
    assert all(0 < entry.weight <= 1 for entry in entries)
    without = [entry.key for entry in entries if entry.field_degrees is None]
    assert all(key.startswith("shower:") for key in without), "a shower has the whole sky"


@pytest.mark.parametrize(
    ("name", "key"), [(one.name, entry.key) for one in starter_lists() for entry in one.entries]
)
def test_a_target_of_a_list_stands_two_hours_in_the_evening(name: str, key: str) -> None:
    assert evening_hours(key, starter_list(name)) >= 2


def test_the_rule_would_refuse_the_galactic_core_in_a_northern_winter() -> None:
    assert evening_hours("milky-way:core", starter_list("north-winter")) == 0


def test_an_unknown_list_is_refused_with_the_known_ones() -> None:
    with pytest.raises(SkyError) as refused:
        starter_list("north-monsoon")
    assert refused.value.code == "starter_list_unknown"
    assert refused.value.fields["known"] == tuple(NAMES)
