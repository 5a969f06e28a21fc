"""What counts at the sites of a season: the windows of its list that are stored there."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from tests.conftest import Cast, store_nights
from tests.trips.stored_windows import store_windows
from trips.models import Season, Spot, TargetEntry, TargetList
from trips.planning.nights import Wishes
from trips.services.judged import judge_season
from trips.services.wanted import WantedHere, wanted_by

NIGHT = date(2027, 3, 4)


@pytest.fixture
def season(cast: Cast) -> Season:
    """The season wants the club's list: the galactic core, and half as much a nebula."""
    cast.season.target_list = cast.target_list
    cast.season.save()
    return cast.season


def entries(season: Season) -> tuple[TargetEntry, TargetEntry]:
    assert season.target_list
    core, nebula = season.target_list.entries.all()
    return core, nebula


def here(cast: Cast, season: Season, **wished: Any) -> WantedHere:
    found = wanted_by(season, replace(Wishes.of(season), **wished), [cast.site])
    assert found is not None
    return found[cast.site]


def hours(found: WantedHere) -> dict[float, list[float]]:
    return {
        one.weight: ((one.spans[:, 1] - one.spans[:, 0]) / 3600).tolist() for one in found.spans
    }


def test_a_season_without_a_list_wants_the_dark(cast: Cast) -> None:
    assert wanted_by(cast.season, Wishes.of(cast.season), [cast.site]) is None


def test_windows_count_by_the_weight_of_their_entry(cast: Cast, season: Season) -> None:
    core, nebula = entries(season)
    store_windows(core, cast.site, {NIGHT: (1, 3)})
    store_windows(nebula, cast.site, {NIGHT: (0, 5)})
    assert hours(here(cast, season)) == {1.0: [2.0], 0.5: [5.0]}


def test_windows_of_the_first_spot_count_and_those_of_others_do_not(
    cast: Cast, season: Season
) -> None:
    core, _nebula = entries(season)
    first = cast.spot
    other = Spot.objects.create(site=cast.site, name="Ford", order=1, latitude=40.4, longitude=-1.1)
    store_windows(core, cast.site, {NIGHT: (0, 1)})
    store_windows(core, cast.site, {NIGHT: (0, 2)}, spot=first)
    store_windows(core, cast.site, {NIGHT: (0, 3)}, spot=other)
    assert hours(here(cast, season)) == {1.0: [2.0]}


def test_an_archived_spot_is_not_looked_from(cast: Cast, season: Season) -> None:
    core, _nebula = entries(season)
    store_windows(core, cast.site, {NIGHT: (0, 1)})
    store_windows(core, cast.site, {NIGHT: (0, 2)}, spot=cast.spot)
    Spot.objects.update(archived_at="2027-01-01T00:00Z")
    assert hours(here(cast, season)) == {1.0: [1.0]}


def test_the_dark_level_that_is_wished_for_is_read_and_no_other(cast: Cast, season: Season) -> None:
    core, _nebula = entries(season)
    store_windows(core, cast.site, {NIGHT: (0, 1)})
    store_windows(core, cast.site, {NIGHT: (0, 2)}, dark_level=-12)
    assert hours(here(cast, season)) == {1.0: [1.0]}
    assert hours(here(cast, season, dark_level=-12)) == {1.0: [2.0]}


def test_of_equal_entries_the_greater_weight_counts(cast: Cast, season: Season) -> None:
    core, _nebula = entries(season)
    TargetEntry.objects.create(
        target_list=cast.target_list, target=core.target, name="again", weight=0.2, order=5
    )
    store_windows(core, cast.site, {NIGHT: (0, 1)})
    assert hours(here(cast, season)) == {1.0: [1.0]}


def test_an_entry_that_no_catalogue_knows_is_left_out_and_not_missing(
    cast: Cast, season: Season
) -> None:
    core, nebula = entries(season)
    TargetEntry.objects.create(
        target_list=cast.target_list, target="deep-sky:gone", name="Gone", order=6
    )
    for entry in (core, nebula):
        store_windows(entry, cast.site, {NIGHT: (0, 1)})
    assert here(cast, season).missing == 0


def test_what_is_not_stored_is_missing(cast: Cast, season: Season) -> None:
    core, _nebula = entries(season)
    store_windows(core, cast.site, {NIGHT: (0, 1)})
    assert here(cast, season).missing == 1


def test_windows_of_before_an_edit_still_count_and_are_missing(cast: Cast, season: Season) -> None:
    core, nebula = entries(season)
    store_windows(core, cast.site, {NIGHT: (0, 1)}, fingerprint="before")
    store_windows(nebula, cast.site, {NIGHT: (0, 1)})
    found = here(cast, season)
    assert found.missing == 1
    assert hours(found)[1.0] == [1.0]


def test_both_years_of_a_winter_are_read(cast: Cast, season: Season) -> None:
    season.last_night = date(2028, 1, 31)
    core, _nebula = entries(season)
    store_windows(core, cast.site, {NIGHT: (0, 1)})
    store_windows(core, cast.site, {date(2028, 1, 4): (0, 3)}, year=2028)
    found = here(cast, season)
    assert hours(found) == {1.0: [1.0, 3.0]}
    assert found.missing == 2


def test_three_queries_are_enough_for_any_number_of_sites(
    cast: Cast, season: Season, django_assert_num_queries: Any
) -> None:
    core, nebula = entries(season)
    for entry in (core, nebula):
        store_windows(entry, cast.site, {NIGHT: (0, 1)})
    with django_assert_num_queries(3):
        wanted_by(season, Wishes.of(season), [cast.site, cast.far_site])


def test_a_season_is_judged_by_its_targets_and_not_by_the_dark(cast: Cast, season: Season) -> None:
    store_nights(cast.site)
    core, nebula = entries(season)
    store_windows(core, cast.site, {NIGHT: (1, 3)})
    store_windows(nebula, cast.site, {NIGHT: (0, 5)})
    judged = judge_season(season, replace(Wishes.of(season), out_until=time(2)))
    (found,) = judged.view.sites
    by_date = {night.date: night for night in found.nights}
    # Four hours from 20:00 UTC, two of them at full weight, and none in the nights around.
    assert by_date[NIGHT].usable_hours == pytest.approx(2 + 2 * 0.5)
    assert by_date[date(2027, 3, 5)].usable_hours == 0
    assert by_date[date(2027, 3, 5)].moonless_hours_out == pytest.approx(4)
    assert [gap.windows for gap in judged.gaps] == []


def test_the_same_season_can_be_judged_by_the_dark(cast: Cast, season: Season) -> None:
    store_nights(cast.site)
    judged = judge_season(season, replace(Wishes.of(season), target_list=None))
    assert judged.wanted is None
    assert judged.view.sites[0].nights[0].usable_hours == pytest.approx(4)


def test_a_list_without_entries_gives_no_hours(cast: Cast, season: Season) -> None:
    store_nights(cast.site)
    empty = TargetList.objects.create(organisation=cast.club, name="Empty")
    judged = judge_season(season, replace(Wishes.of(season), target_list=empty.pk))
    assert {night.usable_hours for night in judged.view.sites[0].nights} == {0.0}
    assert judged.view.sites[0].runs == ()
