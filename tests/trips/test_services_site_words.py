"""Access, permit and group size in words: what is held, and what is still to be done."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from trips.models import Site
from trips.services.site_words import access_words, group_words

EVENING = date(2027, 3, 1)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"night_access": "yes"}, "allowed at night"),
        ({"night_access": "no", "permit_number": "7"}, "not allowed at night"),
        ({"night_access": "unknown"}, "not known yet: ask the land manager"),
        ({"night_access": "permit", "permit_number": "27-014"}, "permit 27-014 held"),
        ({"night_access": "yes", "permit_number": "7"}, "allowed at night; permit 7 held"),
        ({"night_access": "permit"}, "permit still to ask for"),
    ],
)
def test_access_is_told_with_the_permit(fields: dict[str, Any], said: str) -> None:
    assert access_words(Site(**fields), EVENING) == said


def test_a_permit_that_is_held_is_not_to_be_asked_for() -> None:
    site = Site(night_access="permit", permit_number="27-014", permit_lead_days=21)
    assert "ask" not in access_words(site, EVENING)


def test_a_permit_to_ask_for_says_by_when() -> None:
    site = Site(night_access="permit", permit_lead_days=21)
    on_the_day = access_words(site, EVENING, today=date(2027, 2, 8))
    assert on_the_day == "permit still to ask for, by 8 February 2027"


def test_a_day_that_has_passed_is_not_told_as_one_to_come() -> None:
    site = Site(night_access="permit", permit_lead_days=21)
    late = access_words(site, EVENING, today=date(2027, 2, 9))
    assert late == "permit still to ask for: it was due by 8 February 2027"


def test_of_a_whole_season_it_says_how_many_days_ahead() -> None:
    site = Site(night_access="permit", permit_lead_days=21)
    assert access_words(site) == "permit still to ask for, 21 days ahead"
    site.permit_lead_days = 1
    assert access_words(site).endswith("1 day ahead")


def test_a_lead_time_beyond_the_calendar_breaks_nothing() -> None:
    site = Site(night_access="permit", permit_lead_days=2_147_483_647)
    assert "1 January" in access_words(site, EVENING)


def test_the_group_is_told_or_missed() -> None:
    assert group_words(Site(largest_group=1)) == "at most 1 person"
    assert group_words(Site(largest_group=10)) == "at most 10 people"
    assert group_words(Site()) == "largest group not written down"
