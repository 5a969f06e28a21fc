"""A night at a closed site is a night with a reason against it."""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace
from typing import Any

import pytest

from trips.planning.closures import why_closed
from trips.templatetags.nights import against

JULY, DECEMBER = date(2027, 7, 3), date(2027, 12, 3)


def site(**facts: Any) -> SimpleNamespace:
    known = {
        "months_open": list(range(1, 13)),
        "road_closed_from": None,
        "road_closed_to": None,
        "night_access": "yes",
    }
    return SimpleNamespace(**known | facts)


def test_an_open_site_is_not_closed() -> None:
    assert why_closed(site(), JULY) is None


def test_a_month_that_is_not_open_is_closed_and_its_neighbours_are_not() -> None:
    summer = site(months_open=[6, 7, 8])
    assert why_closed(summer, DECEMBER) == "closed_month"
    assert why_closed(summer, JULY) is None


def test_no_months_filled_in_does_not_close_the_site() -> None:
    assert why_closed(site(months_open=[]), DECEMBER) is None


@pytest.mark.parametrize(
    ("first", "last", "closed"),
    [
        (date(2027, 7, 3), date(2027, 7, 3), True),
        (date(2027, 7, 4), date(2027, 7, 9), False),
        (date(2027, 6, 1), date(2027, 7, 2), False),
        (date(2027, 7, 1), None, True),
        (None, date(2027, 7, 3), True),
        (None, date(2027, 7, 2), False),
    ],
)
def test_a_road_is_closed_from_its_first_day_to_its_last(
    first: date | None, last: date | None, closed: bool
) -> None:
    found = why_closed(site(road_closed_from=first, road_closed_to=last), JULY)
    assert found == ("road_closed" if closed else None)


def test_a_site_without_night_access_is_closed_every_night() -> None:
    assert why_closed(site(night_access="no"), JULY) == "no_night_access"


def test_a_page_says_why_and_is_silent_of_an_open_site() -> None:
    assert against(site(months_open=[7]), DECEMBER) == "closed in December"
    assert against(site(), JULY) == ""
