"""The same nights at the other sites."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from tests.trips.test_planning_season_view import NEW_MOON, Place, rows
from trips.planning.elsewhere import elsewhere
from trips.planning.nights import Wishes
from trips.planning.season_view import SiteSeason, rank

FIRST, LAST = date(2027, 1, 30), date(2027, 1, 31)


def seasons(**hours: tuple[float, ...]) -> list[SiteSeason[Place]]:
    sites = {Place(name): rows(*each) for name, each in hours.items()}
    return list(rank(Wishes(), sites, [NEW_MOON]).sites)


def test_the_site_with_the_most_hours_stands_first() -> None:
    found = elsewhere(seasons(low=(1, 2), high=(3, 4)), FIRST, LAST)
    assert [(each.site.name, each.hours) for each in found] == [("high", 7), ("low", 3)]


def test_a_site_without_all_the_nights_is_left_out() -> None:
    assert elsewhere(seasons(short=(4,)), FIRST, LAST) == []


def test_a_closed_site_stands_last_with_its_reason() -> None:
    open_site, closed = seasons(open=(1, 1), closed=(4, 4))
    nights = tuple(replace(night, why_not="road_closed") for night in closed.nights)
    found = elsewhere([replace(closed, nights=nights), open_site], FIRST, LAST)
    assert [(each.site.name, each.why_not) for each in found] == [
        ("open", None),
        ("closed", "road_closed"),
    ]


def test_among_equals_the_nearest_stands_first_and_an_unknown_drive_last() -> None:
    far, near, unknown = seasons(far=(2, 2), near=(2, 2), unknown=(2, 2))
    near = replace(near, site=replace(near.site, drive_minutes=30))
    far = replace(far, site=replace(far.site, drive_minutes=90))
    found = elsewhere([unknown, far, near], FIRST, LAST)
    assert [each.site.name for each in found] == ["near", "far", "unknown"]
