"""What a new season is filled in with."""

from __future__ import annotations

from datetime import UTC, date, datetime

from tests.conftest import Cast
from trips.models import Season, Site
from trips.services.proposals import Proposal, propose_season, twins


def proposed(cast: Cast, *today: int) -> Proposal:
    return propose_season(cast.club, now=datetime(*today, 12, tzinfo=UTC))  # type: ignore[misc,arg-type]


def test_late_in_the_year_the_next_whole_year_is_proposed(cast: Cast) -> None:
    found = proposed(cast, 2026, 11, 25)
    assert (found.first_night, found.last_night) == (date(2027, 1, 1), date(2027, 12, 31))
    assert found.name == "Season 2027"


def test_earlier_in_the_year_the_twelve_months_to_come_are_proposed(cast: Cast) -> None:
    found = proposed(cast, 2027, 5, 29)
    assert (found.first_night, found.last_night) == (date(2027, 5, 1), date(2028, 4, 30))
    assert found.name == "May 2027 to April 2028"


def test_a_leap_day_is_no_stumbling_block(cast: Cast) -> None:
    found = proposed(cast, 2028, 2, 29)
    assert (found.first_night, found.last_night) == (date(2028, 2, 1), date(2029, 1, 31))


def whole(cast: Cast, first: date, last: date, **fields: object) -> Season:
    season = Season.objects.create(
        organisation=cast.club, name=f"{first}", first_night=first, last_night=last, **fields
    )
    season.sites.add(cast.site)
    return season


def test_a_year_that_is_covered_is_not_proposed_again(cast: Cast) -> None:
    whole(cast, date(2027, 1, 1), date(2027, 12, 31))
    found = proposed(cast, 2026, 11, 25)
    assert (found.first_night, found.last_night) == (date(2028, 1, 1), date(2028, 12, 31))
    assert found.name == "Season 2028"


def test_years_covered_one_after_the_other_are_passed(cast: Cast) -> None:
    whole(cast, date(2028, 1, 1), date(2028, 12, 31))
    whole(cast, date(2027, 1, 1), date(2027, 12, 31))
    assert proposed(cast, 2026, 11, 25).first_night == date(2029, 1, 1)


def test_twelve_months_that_are_mostly_covered_are_followed_by_the_next(cast: Cast) -> None:
    whole(cast, date(2027, 5, 1), date(2028, 4, 30))
    found = proposed(cast, 2027, 6, 29)
    assert (found.first_night, found.last_night) == (date(2028, 5, 1), date(2029, 4, 30))


def test_a_year_of_which_a_month_is_covered_is_proposed(cast: Cast) -> None:
    whole(cast, date(2027, 3, 1), date(2027, 3, 31))
    assert proposed(cast, 2026, 11, 25).first_night == date(2027, 1, 1)


def test_a_year_covered_by_an_archived_season_is_proposed(cast: Cast) -> None:
    whole(cast, date(2027, 1, 1), date(2027, 12, 31), archived_at=datetime(2026, 1, 1, tzinfo=UTC))
    assert proposed(cast, 2026, 11, 25).first_night == date(2027, 1, 1)


def twin_of(cast: Cast) -> Season:
    first, last = cast.season.first_night, cast.season.last_night
    return whole(cast, first, last)


def test_a_season_of_the_same_dates_and_sites_is_a_twin(cast: Cast) -> None:
    assert twins(twin_of(cast)) == [cast.season]


def test_a_season_at_other_sites_is_no_twin(cast: Cast) -> None:
    twin = twin_of(cast)
    twin.sites.clear()
    assert twins(twin) == []


def test_a_season_of_other_dates_is_no_twin(cast: Cast) -> None:
    assert twins(whole(cast, date(2030, 1, 1), date(2030, 1, 31))) == []


def test_a_name_that_is_taken_is_numbered(cast: Cast) -> None:
    Season.objects.update(name="Season 2027")
    assert proposed(cast, 2026, 11, 25).name == "Season 2027, 2"


def test_an_archived_season_does_not_take_the_name(cast: Cast) -> None:
    Season.objects.update(name="Season 2027", archived_at=datetime(2026, 1, 1, tzinfo=UTC))
    assert proposed(cast, 2026, 11, 25).name == "Season 2027"


def test_all_sites_of_the_organisation_are_proposed_and_no_others(cast: Cast) -> None:
    assert proposed(cast, 2026, 11, 25).sites == (cast.site,)


def test_an_archived_site_is_not_proposed(cast: Cast) -> None:
    Site.objects.update(archived_at=datetime(2026, 1, 1, tzinfo=UTC))
    assert proposed(cast, 2026, 11, 25).sites == ()
