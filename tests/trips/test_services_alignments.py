"""Alignments judged by a season: hours, evenings that are offered, nights in a row."""

from __future__ import annotations

from datetime import UTC, date, datetime, time

import pytest

from tests.trips.making import make_season, make_site
from trips.almanac.alignments import Alignment
from trips.models import Season, Site
from trips.services.alignments import OUTSIDE_HOURS, judge_alignments, rows_of

pytestmark = pytest.mark.django_db

MONDAY = date(2027, 3, 1)


def alignment(day: int, hour: int, minute: int = 0, *, dusk: int | None = 18) -> Alignment:
    """One of the night of the first of March, in UTC: at `hour` of `day`, civil dusk at `dusk`."""
    at = datetime(2027, 3, day, hour, minute, tzinfo=UTC)
    return Alignment(
        night=MONDAY,
        civil_dusk=None if dusk is None else datetime(2027, 3, 1, dusk, tzinfo=UTC),
        at=at,
        start=at,
        end=at,
        altitude_degrees=20.0,
        altitude_geometric_degrees=19.9,
        azimuth_degrees=180.0,
        sun_altitude_degrees=-30.0,
        moon_altitude_degrees=-10.0,
        moon_illuminated=0.2,
        moon_waxing=True,
    )


@pytest.fixture
def site() -> Site:
    return make_site()


def reason(one: Alignment, site: Site, season: Season | None) -> str | None:
    return judge_alignments([one], site, season)[0].why_not


@pytest.mark.parametrize(
    ("one", "is_out"),
    [
        (alignment(1, 17, 59), False),
        (alignment(1, 18, 1), True),
        (alignment(2, 0, 59), True),  # 01:59 in Madrid
        (alignment(2, 1, 1), False),
        (alignment(1, 12, 0, dusk=None), True),  # where the Sun stays that low
    ],
)
def test_people_are_out_from_civil_dusk_until_the_season_s_hour(
    site: Site, one: Alignment, is_out: bool
) -> None:
    assert reason(one, site, make_season(site)) == (None if is_out else OUTSIDE_HOURS)


def test_hours_of_the_season_s_own_are_kept(site: Site) -> None:
    season = make_season(site, out_from=time(22), out_until=time(23))
    assert reason(alignment(1, 21, 30), site, season) is None
    assert reason(alignment(1, 20, 30), site, season) == OUTSIDE_HOURS


def test_an_evening_that_is_not_offered_says_why_before_its_hours(site: Site) -> None:
    season = make_season(site, weekdays=[4, 5])
    assert reason(alignment(2, 4), site, season) == "weekday"
    assert reason(alignment(2, 4), site, make_season(site, name="Other")) == OUTSIDE_HOURS


def test_without_a_season_only_what_closes_the_site_counts(site: Site) -> None:
    late = alignment(2, 4)
    assert reason(late, site, None) is None
    site.months_open = [5, 6]
    assert reason(late, site, None) == "closed_month"


def test_a_night_on_which_nobody_can_be_there_is_in_no_row(site: Site) -> None:
    season = make_season(site)
    out, late = judge_alignments([alignment(1, 20), alignment(2, 4)], site, season)
    assert (out.row, out.nights_in_row) == ((MONDAY, MONDAY), 1)
    assert (late.row, late.nights_in_row) == (None, 0)


def test_nights_in_a_row_are_gathered_and_a_gap_parts_them() -> None:
    days = [3, 1, 2, 2, 6]
    rows = rows_of(date(2027, 3, day) for day in days)
    first, second = (date(2027, 3, 1), date(2027, 3, 3)), (date(2027, 3, 6), date(2027, 3, 6))
    assert [rows[date(2027, 3, day)] for day in (1, 2, 3, 6)] == [first, first, first, second]
    assert rows_of([]) == {}
