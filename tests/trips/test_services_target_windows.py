"""Windows as jobs: asked for once, stored per spot, target and year, never half."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

import numpy as np
import pytest

from sky.nights import compute_season
from sky.windows import Wanted, find_windows
from tests.trips.making import NOON, make_organisation, make_season, make_site
from trips.almanac.packing import unpack_bests, unpack_spans
from trips.almanac.targets import target_of
from trips.almanac.windows import (
    WantedRow,
    compute_windows,
    spot_place,
    spot_skyline,
    windows_fingerprint,
)
from trips.models import Job, Season, Site, Spot, TargetEntry, TargetList, TargetWindows
from trips.services import jobs, target_windows, working

pytestmark = pytest.mark.django_db

CORE, JUPITER = "milky-way:core", "planet:jupiter"
# The core in moonless light at three dark levels; Jupiter in any light at none.
ROWS_A_SPOT = 5


def clock() -> datetime:
    return NOON


@pytest.fixture
def season() -> Season:
    """A season that wants the core and Jupiter at a site with one spot."""
    club = make_organisation()
    site = make_site(club)
    Spot.objects.create(
        site=site, name="Ford", latitude=40.41, longitude=-1.1, skyline=[[0, 3], [180, 9]]
    )
    wanted = TargetList.objects.create(organisation=club, name="Summer")
    for order, key in enumerate((CORE, JUPITER)):
        TargetEntry.objects.create(target_list=wanted, target=key, name=key, weight=1, order=order)
    return make_season(site, target_list=wanted)


def ask(season: Season) -> list[Job]:
    return target_windows.request_season(season, by=None, now=NOON)


def run(job: Job) -> Job:
    working.run(job.uid, clock=clock)
    job.refresh_from_db()
    return job


def spot_of(season: Season) -> Spot:
    return Spot.objects.get(site__seasons=season)


def test_a_job_stores_a_row_for_each_target_level_and_year(season: Season) -> None:
    season.last_night = date(2028, 1, 5)
    season.save()
    (job,) = ask(season)
    assert run(job).state == Job.State.DONE
    stored = TargetWindows.objects.values_list("year", "target", "dark_level")
    assert sorted(stored) == [
        (year, key, level)
        for year in (2027, 2028)
        for key, level in [(CORE, -18), (CORE, -15), (CORE, -12), (CORE, 0), (JUPITER, 0)]
    ]
    assert set(TargetWindows.objects.values_list("spot", flat=True)) == {spot_of(season).pk}


def test_what_is_stored_is_what_sky_finds(season: Season) -> None:
    run(ask(season)[0])
    row, spot = TargetWindows.objects.get(target=JUPITER), spot_of(season)
    table = compute_season([spot_place(spot.site, None)], date(2027, 1, 1), date(2027, 12, 31))
    wanted = Wanted.as_usual(target_of(JUPITER))
    from_sky = find_windows([wanted], spot_place(spot.site, spot), spot_skyline(spot), table)[0]
    bests = unpack_bests(row.bests)
    assert np.array_equal(unpack_spans(row.spans), from_sky.spans)
    assert np.array_equal(bests.at, from_sky.best_at)
    assert np.array_equal(bests.altitude, from_sky.best_altitude)
    assert np.array_equal(bests.altitude_geometric, from_sky.best_altitude_geometric)
    assert np.array_equal(bests.azimuth, from_sky.best_azimuth)


def test_a_target_that_never_rises_is_stored_as_nothing_and_not_asked_again(season: Season) -> None:
    Spot.objects.update(latitude=78.0)
    Site.objects.update(latitude=78.0)
    run(ask(season)[0])
    row = TargetWindows.objects.filter(target=CORE)[0]
    assert unpack_spans(row.spans).shape == (0, 2)
    assert len(unpack_bests(row.bests).at) == 0
    assert ask(season) == []


def test_asking_twice_makes_one_job(season: Season) -> None:
    assert ask(season) == ask(season)
    assert Job.objects.count() == 1


def test_what_is_stored_is_not_asked_for_again(season: Season) -> None:
    run(ask(season)[0])
    assert ask(season) == []


def test_a_moved_spot_is_asked_for_again_and_its_old_rows_go(season: Season) -> None:
    run(ask(season)[0])
    Spot.objects.update(skyline=[[0, 20], [180, 20]])
    (job,) = ask(season)
    run(job)
    assert TargetWindows.objects.count() == ROWS_A_SPOT
    present = windows_fingerprint(season.sites.get(), spot_of(season))
    assert set(TargetWindows.objects.values_list("fingerprint", flat=True)) == {present}


@pytest.mark.parametrize(
    "changed", [{"latitude": 40.42}, {"longitude": -1.2}, {"elevation_m": 9}, {"skyline": [[0, 1]]}]
)
def test_a_fingerprint_changes_with_what_windows_depend_on(
    season: Season, changed: dict[str, object]
) -> None:
    spot = spot_of(season)
    before = windows_fingerprint(spot.site, spot)
    for name, value in changed.items():
        setattr(spot, name, value)
    assert windows_fingerprint(spot.site, spot) != before


def test_a_fingerprint_does_not_change_with_a_name_or_an_order(season: Season) -> None:
    spot = spot_of(season)
    before = windows_fingerprint(spot.site, spot)
    spot.name, spot.order, spot.site.name = "Weir", 7, "Dale"
    assert windows_fingerprint(spot.site, spot) == before


def test_nothing_is_stored_for_a_spot_edited_during_the_work(
    season: Season, monkeypatch: pytest.MonkeyPatch
) -> None:
    def compute_while_somebody_edits(
        site: Site, spot: Spot | None, wanted: Sequence[WantedRow], year: int
    ) -> list[TargetWindows]:
        Spot.objects.update(latitude=41.0)
        return compute_windows(site, spot, wanted, year)

    (job,) = ask(season)
    monkeypatch.setattr(target_windows, "compute_windows", compute_while_somebody_edits)
    assert run(job).state == Job.State.STOPPED
    assert "edited" in job.error
    assert not TargetWindows.objects.exists()


def test_nothing_is_stored_under_a_lost_claim(
    season: Season, monkeypatch: pytest.MonkeyPatch
) -> None:
    def compute_while_another_takes_over(
        site: Site, spot: Spot | None, wanted: Sequence[WantedRow], year: int
    ) -> list[TargetWindows]:
        Job.objects.update(lease_owner="00000000-0000-0000-0000-000000000001")
        return compute_windows(site, spot, wanted, year)

    (job,) = ask(season)
    monkeypatch.setattr(target_windows, "compute_windows", compute_while_another_takes_over)
    assert run(job).state == Job.State.RUNNING
    assert not TargetWindows.objects.exists()


def test_a_job_that_broke_off_goes_on_with_the_year_that_is_missing(
    season: Season, monkeypatch: pytest.MonkeyPatch
) -> None:
    season.last_night = date(2028, 1, 5)
    season.save()
    is_broken, tried = True, []

    def break_down_in_the_second(
        site: Site, spot: Spot | None, wanted: Sequence[WantedRow], year: int
    ) -> list[TargetWindows]:
        if year == 2028 and is_broken:
            raise MemoryError("no room")
        tried.append((year, len(wanted)))
        return compute_windows(site, spot, wanted, year)

    (job,) = ask(season)
    monkeypatch.setattr(target_windows, "compute_windows", break_down_in_the_second)
    assert run(job).state == Job.State.QUEUED
    assert TargetWindows.objects.count() == ROWS_A_SPOT
    is_broken = False
    assert run(job).state == Job.State.DONE
    assert TargetWindows.objects.count() == 2 * ROWS_A_SPOT
    assert tried == [(2027, ROWS_A_SPOT), (2027, 0), (2028, ROWS_A_SPOT)]


def test_asking_a_job_anew_asks_for_windows_and_not_for_nights(season: Season) -> None:
    (job,) = ask(season)
    claim = jobs.claim(job.uid, now=NOON)
    assert claim is not None
    jobs.fail(claim, "gone", now=NOON, final=True)
    again = working.ask_again(job, by=None, now=NOON)
    assert again != job
    assert again.kind == Job.Kind.TARGET_WINDOWS
