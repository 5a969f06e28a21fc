"""Seasons and sites: saved with a version, and their nights asked for when they are wanted."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from django.core.exceptions import ValidationError

from tests.trips.making import (
    FIRST,
    LAST,
    NOON,
    make_organisation,
    make_season,
    make_site,
    make_user,
)
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.wording import SkyError
from trips.models import Job, Night, Season, Site, TargetEntry, TargetList, TargetWindows
from trips.services import nights, working
from trips.services.editing import EditedMeanwhileError
from trips.services.seasons import (
    MOST_TRIED,
    archive_season,
    request_season,
    save_season,
    try_list,
)
from trips.services.sites import archive_site, save_site

pytestmark = pytest.mark.django_db


def compute(site: Site) -> None:
    for job in Job.objects.open().filter(site=site):
        working.run(job.uid, clock=lambda: NOON)


def test_a_new_season_asks_for_the_nights_of_each_site() -> None:
    near = make_site()
    far = make_site(near.organisation, name="Far hill")
    season = Season(
        organisation=near.organisation, name="Spring", first_night=FIRST, last_night=LAST
    )
    save_season(season, [near, far], by=make_user(), now=NOON)
    assert set(season.sites.all()) == {near, far}
    assert {job.site for job in Job.objects.open()} == {near, far}


def test_a_season_does_not_ask_for_nights_that_are_there() -> None:
    site = make_site()
    season = make_season(site)
    request_season(season, by=None, now=NOON)
    compute(site)
    assert request_season(season, by=None, now=NOON) == []


def test_a_season_does_not_ask_for_archived_sites() -> None:
    site = make_site()
    season = make_season(site)
    archive_site(site, now=NOON)
    assert request_season(season, by=None, now=NOON) == []


def test_a_season_does_not_take_the_sites_of_another_organisation() -> None:
    own, foreign = make_site(), make_site(make_organisation("Other club"))
    season = Season(
        organisation=own.organisation, name="Spring", first_night=FIRST, last_night=LAST
    )
    with pytest.raises(ValidationError, match="another organisation"):
        save_season(season, [own, foreign], by=None, now=NOON)
    assert not Season.objects.exists()
    assert not Job.objects.exists()


@pytest.mark.parametrize(
    ("first", "last", "code"),
    [
        (LAST, FIRST, "season_reversed"),
        (date(2027, 1, 1), date(2030, 1, 2), "season_too_long"),
        (date(1971, 12, 31), date(1972, 2, 1), "season_outside"),
        (date(2050, 12, 1), date(2051, 1, 1), "season_outside"),
    ],
)
def test_a_season_that_cannot_be_is_refused_whole(first: date, last: date, code: str) -> None:
    site = make_site()
    season = Season(organisation=site.organisation, name="Odd", first_night=first, last_night=last)
    with pytest.raises(SkyError) as refusal:
        save_season(season, [site], by=None, now=NOON)
    assert refusal.value.code == code
    assert not Season.objects.exists()


def test_the_second_editor_of_a_season_is_told_and_nothing_is_overwritten() -> None:
    season = make_season(make_site())
    first, second = (Season.objects.get(pk=season.pk) for _editor in range(2))
    first.name, second.name = "First", "Second"
    save_season(first, list(season.sites.all()), by=None, now=NOON)
    with pytest.raises(EditedMeanwhileError, match="changed by somebody else"):
        save_season(second, [], by=None, now=NOON)
    season.refresh_from_db()
    assert (season.name, season.version, season.sites.count()) == ("First", 2, 1)


def test_the_second_editor_of_a_site_is_told_and_nothing_is_overwritten() -> None:
    site = make_site()
    first, second = (Site.objects.get(pk=site.pk) for _editor in range(2))
    first.notes, second.notes = "Windy.", "Calm."
    save_site(first, by=None, now=NOON)
    with pytest.raises(EditedMeanwhileError):
        save_site(second, by=None, now=NOON)
    site.refresh_from_db()
    assert (site.notes, site.version) == ("Windy.", 2)


def test_one_editor_saves_twice_in_a_row() -> None:
    site = make_site()
    save_site(site, by=None, now=NOON)
    save_site(site, by=None, now=NOON)
    assert Site.objects.get().version == 3


@pytest.mark.parametrize(
    ("field", "value"),
    [("latitude", 41.0), ("longitude", -2.0), ("elevation_m", 900.0), ("zone", "Europe/Lisbon")],
)
def test_editing_what_a_night_depends_on_asks_for_its_nights_again(
    field: str, value: object
) -> None:
    site = make_site()
    make_season(site)
    setattr(site, field, value)
    save_site(site, by=None, now=NOON)
    job = Job.objects.get()
    assert (job.first_night, job.last_night) == (FIRST, LAST)
    assert job.fingerprint == site_fingerprint(Site.objects.get())


def test_editing_a_note_does_not_ask_for_nights() -> None:
    site = make_site()
    make_season(site)
    site.notes = "Bring a coat."
    save_site(site, by=None, now=NOON)
    assert not Job.objects.exists()


def test_editing_does_not_ask_for_a_season_that_is_over_or_archived() -> None:
    site = make_site()
    make_season(site, name="Past", first_night=date(2026, 3, 1), last_night=date(2026, 3, 5))
    archive_season(make_season(site), now=NOON)
    site.latitude = 41.0
    save_site(site, by=None, now=NOON)
    assert not Job.objects.exists()


def test_stored_nights_are_stale_after_an_edit_and_fresh_after_the_job() -> None:
    site = make_site()
    request_season(make_season(site), by=None, now=NOON)
    compute(site)
    site.elevation_m = 2000.0
    save_site(site, by=None, now=NOON)
    assert not nights.are_fresh(site, FIRST, LAST)
    assert Night.objects.count() == 10, "stale nights stay until new ones are there"
    compute(site)
    assert nights.are_fresh(site, FIRST, LAST)
    assert Night.objects.count() == 10


def test_a_site_without_a_zone_gets_that_of_its_position() -> None:
    site = Site(organisation=make_organisation(), name="North", latitude=69.1, longitude=18.6)
    save_site(site, by=None, now=datetime(2027, 1, 1, tzinfo=UTC))
    assert Site.objects.get().zone == "Europe/Oslo"


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"latitude": 91.0}, "latitude_out_of_range"),
        ({"longitude": float("nan")}, "not_a_number"),
        ({"zone": "Mars/Base"}, "zone_unknown"),
    ],
)
def test_a_site_that_cannot_be_is_not_saved(fields: dict[str, object], code: str) -> None:
    values = {"latitude": 40.0, "longitude": -1.0, "zone": "Europe/Madrid"} | fields
    site = Site(organisation=make_organisation(), name="Nowhere", **values)
    with pytest.raises(SkyError) as refusal:
        save_site(site, by=None, now=NOON)
    assert refusal.value.code == code
    assert not Site.objects.exists()


def make_list(season: Season, name: str) -> TargetList:
    made = TargetList.objects.create(organisation=season.organisation, name=name)
    TargetEntry.objects.create(target_list=made, target="deep-sky:NGC0224", name="M 31")
    return made


def test_the_windows_of_a_list_that_was_tried_are_computed() -> None:
    site = make_site()
    season = make_season(site)
    (job,) = try_list(season, make_list(season, "Autumn"), by=None, now=NOON)
    working.run(job.uid, clock=lambda: NOON)
    assert set(TargetWindows.objects.values_list("target", "dark_level")) == {
        ("deep-sky:NGC0224", level) for level in (-18, -15, -12, 0)
    }
    assert season.target_list is None


def test_only_the_lists_tried_last_are_remembered() -> None:
    season = make_season(make_site())
    lists = [make_list(season, f"List {n}") for n in range(MOST_TRIED + 2)]
    for each in lists:
        try_list(season, each, by=None, now=NOON)
    assert set(season.tried_lists.all()) == set(lists[-MOST_TRIED:])


def test_a_list_of_another_organisation_cannot_be_tried() -> None:
    season = make_season(make_site())
    foreign = TargetList.objects.create(organisation=make_organisation("Other"), name="Theirs")
    with pytest.raises(ValidationError, match="another organisation"):
        try_list(season, foreign, by=None, now=NOON)
    assert not season.tried_lists.exists()
