"""Sites beside each other: sums, the order of columns, which is named, two laid over each other."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta

import pytest

from sky.spans import Span
from trips.planning.choosing import answer, drives
from trips.planning.comparing import Compared, compared, figure, in_order
from trips.planning.laying_over import (
    SharedHours,
    adds_most,
    shared_hours,
    site_to_start_from,
    usable_pairs,
)
from trips.planning.nights import Block, JudgedNight
from trips.planning.only_here import only_here
from trips.planning.runs import Run, Stretch
from trips.planning.season_view import SiteSeason

FIRST = date(2027, 12, 30)
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Place:
    name: str
    drive_minutes: int | None = None
    sky_brightness: float | None = None
    latitude: float = 40.0
    longitude: float = -1.0
    night_access: str = "unknown"
    months_open: list[int] = field(default_factory=list, hash=False)
    zone: str = "UTC"
    road_closed_from: date | None = None
    road_closed_to: date | None = None


def night(day: date, hours: float, *, starts: float = 0, why_not: str | None = None) -> JudgedNight:
    """Make a night with one spell of moonless dark, `starts` hours after 20:00 UTC."""
    dusk = datetime(day.year, day.month, day.day, 20, tzinfo=UTC) + timedelta(hours=starts)
    span = Span(dusk, dusk + timedelta(hours=hours))
    return JudgedNight(
        date=day,
        dark_hours=8,
        moonless_hours=hours + 1,
        moonless_hours_out=hours,
        moon_illuminated=0.1,
        block=Block(span.start, span.end, hours) if hours else None,
        is_candidate=hours >= 2,
        moonless_out=((span.start.timestamp(), span.end.timestamp()),) if hours else (),
        why_not=why_not,
    )


def nights(*hours: float, first: date = FIRST, why_not: str | None = None) -> list[JudgedNight]:
    return [night(first + ONE_DAY * n, each, why_not=why_not) for n, each in enumerate(hours)]


def season(place: Place, of: list[JudgedNight], *firsts: date) -> SiteSeason[Place]:
    runs = tuple(
        Run(Stretch(day, day, 3, 1), 1, datetime(2028, 1, 1, tzinfo=UTC), (), None)
        for day in firsts
    )
    return SiteSeason(
        site=place, nights=tuple(of), runs=runs, months=(), candidates=0, longest_run=0,
        candidates_by_level={}, never_dark_by_level={}, left_out={},
    )  # fmt: skip


def site(name: str, *hours: float, **known: object) -> Compared[Place]:
    return compared(season(Place(name, **known), nights(*hours)))  # type: ignore[arg-type]


def names(sites: list[Compared[Place]]) -> list[str]:
    return [each.site.name for each in sites]


def test_months_hold_the_sums_of_their_nights() -> None:
    found = site("Hill", 4, 3, 2, 1)
    assert {month: (m.nights, m.usable, m.moonless) for month, m in found.months.items()} == {
        (2027, 12): (2, 7, 9),
        (2028, 1): (2, 3, 5),
    }
    assert (found.usable_hours, found.moonless_hours, found.candidates) == (10, 14, 3)


def test_an_evening_that_is_not_offered_does_not_count_as_usable() -> None:
    of = [*nights(4, 4), *nights(3, first=FIRST + ONE_DAY * 2, why_not="closed_month")]
    found = compared(season(Place("Hill"), of))
    assert (found.usable_hours, found.moonless_hours) == (8, 14)
    assert (found.offered, found.candidates, found.left_out) == (2, 3, {"closed_month": 1})


def test_a_year_is_cut_out_of_a_longer_season() -> None:
    whole = season(Place("Hill"), nights(4, 3, 2, 1), date(2027, 12, 30), date(2028, 1, 1))
    found = compared(whole, 2028)
    assert list(found.months) == [(2028, 1)]
    assert (found.usable_hours, found.candidates) == (3, 1)
    assert found.best is not None
    assert found.best.first == date(2028, 1, 1)


def test_columns_sort_both_ways() -> None:
    sites = [site("A", 1, drive_minutes=90), site("B", 3, drive_minutes=30), site("C", 2)]
    assert names(in_order(sites, "usable", most_first=True)) == ["B", "C", "A"]
    assert names(in_order(sites, "usable", most_first=False)) == ["A", "C", "B"]


@pytest.mark.parametrize("most_first", [True, False])
def test_what_is_not_known_comes_last_either_way(*, most_first: bool) -> None:
    sites = [site("A"), site("B", 2, drive_minutes=5), site("C", 3, drive_minutes=9)]
    for column in ("usable", "candidates", "run", "drive", (2027, 12)):
        assert names(in_order(sites, column, most_first=most_first))[-1] == "A"


def test_equals_keep_the_order_of_their_names_either_way() -> None:
    sites = [site("b", 2), site("C", 2), site("A", 2)]
    for most_first in (True, False):
        assert names(in_order(sites, "usable", most_first=most_first)) == ["A", "b", "C"]


def test_figures_that_read_alike_are_equal() -> None:
    # Twenty seconds are no difference on a page of whole minutes.
    sites = [site("B", 2.005), site("A", 2.0)]
    assert names(in_order(sites, "usable", most_first=True)) == ["A", "B"]


def test_a_month_sorts_by_usable_and_then_by_moonless_hours() -> None:
    closed = compared(season(Place("Closed"), nights(4, why_not="closed_month")))
    none = compared(season(Place("None"), nights(0)))
    sites = [none, closed, site("Hill", 1)]
    assert names(in_order(sites, (2027, 12), most_first=True)) == ["Hill", "Closed", "None"]


def test_access_sorts_from_the_freest_to_what_is_not_allowed() -> None:
    sites = [
        site("A", night_access="no"),
        site("B", night_access="permit"),
        site("C", night_access="yes", months_open=[6, 7]),
        site("D", night_access="yes"),
        site("E", night_access="unknown"),
    ]
    assert names(in_order(sites, "access", most_first=False)) == ["D", "C", "B", "A", "E"]


def test_a_site_without_a_run_has_none_and_one_without_nights_no_figure() -> None:
    assert figure(site("A", 0), "run") == 0
    assert figure(site("B"), "run") is None


def test_the_site_with_the_most_hours_is_named_first() -> None:
    said = answer([site("A", 3), site("B", 4)])
    assert said is not None
    assert names(list(said.best)) == ["B"]
    assert said.other is not None
    assert (said.other.site.name, said.is_close) == ("A", False)


def test_equals_are_named_together_the_nearest_first() -> None:
    sites = [site("A", 4, drive_minutes=60), site("B", 4, drive_minutes=20), site("C", 4)]
    said = answer(sites)
    assert said is not None
    assert (names(list(said.best)), said.other) == (["B", "A", "C"], None)


def test_a_nearer_site_that_is_nearly_as_good_is_named_with_its_gain() -> None:
    said = answer([
        site("Far", 4, drive_minutes=90, sky_brightness=21.7),
        site("Near", 3.9, drive_minutes=70, sky_brightness=21.2),
    ])  # fmt: skip
    assert said is not None
    assert said.other is not None
    assert (said.other.site.name, said.is_close, said.nearer) == ("Near", True, 20)
    assert said.darker == pytest.approx(-0.5)


def test_a_nearer_site_with_far_fewer_hours_is_not_called_nearly_as_good() -> None:
    said = answer([site("Far", 4, drive_minutes=90), site("Near", 3, drive_minutes=10)])
    assert said is not None
    assert (said.is_close, said.nearer) == (False, 80)


def test_without_a_nearer_site_a_darker_one_is_named() -> None:
    said = answer([site("A", 4, sky_brightness=21.4), site("B", 3.9, sky_brightness=21.5)])
    assert said is not None
    assert (said.is_close, said.nearer) == (True, None)
    assert said.darker == pytest.approx(0.1)


def test_darkness_that_nobody_measured_is_not_compared() -> None:
    said = answer([site("A", 4), site("B", 3.9, sky_brightness=21.9)])
    assert said is not None
    assert (said.is_close, said.darker) == (False, None)


def test_sites_that_hardly_differ_are_counted() -> None:
    said = answer([site("A", 4), site("B", 3.99), site("C", 3.95), site("D", 2)])
    assert said is not None
    assert said.alike == 3
    assert said.spread_hours == pytest.approx(0.05)


def test_drive_and_darkness_decide_only_between_sites_of_which_both_are_known() -> None:
    known: dict[str, object] = {"drive_minutes": 60, "sky_brightness": 21.5}
    said = answer([site("A", 4, **known), site("B", 3.99, drive_minutes=30), site("C", 2)])
    assert said is not None
    assert (said.alike, said.undecided) == (2, 1)
    decided = answer([site("A", 4, **known), site("B", 3.99, **known)])
    assert decided is not None
    assert decided.undecided == 0


def test_without_a_usable_hour_no_site_is_named() -> None:
    assert answer([site("A", 0), site("B")]) is None
    assert answer([]) is None


def test_a_drive_is_worth_it_to_a_site_darker_than_every_nearer_one() -> None:
    near, mid = Place("Near", 30, 20.5), Place("Mid", 60, 20.1)
    far, unknown, undriven = Place("Far", 90, 21.6), Place("X", 10), Place("Y", None, 21.9)
    weighed = drives([far, unknown, mid, near, undriven])
    assert weighed.worth == (near, far)
    assert weighed.not_darker == ((mid, near),)
    assert (weighed.unmeasured, weighed.undriven) == ((unknown,), (undriven,))


def test_equals_in_drive_and_darkness_are_worth_the_same() -> None:
    one, other = Place("A", 30, 21), Place("B", 30, 21)
    assert drives([one, other]).worth == (one, other)


def test_an_equally_dark_site_farther_off_is_not_worth_the_drive() -> None:
    near, far = Place("A", 30, 21), Place("B", 40, 21)
    assert drives([near, far]).not_darker == ((far, near),)


def test_the_best_site_is_laid_over_by_the_one_that_adds_most_hours_to_it() -> None:
    best, like, unlike = site("A", 4, 4, 4, 0), site("B", 4, 4, 3.9, 0), site("C", 1, 1, 4, 2)
    sites = [like, unlike, best, site("D")]
    assert site_to_start_from(sites) is best
    assert adds_most(best, sites) is unlike


def test_a_site_that_is_a_flight_away_is_laid_over_only_where_no_other_is_near() -> None:
    best, near = site("A", 4, 0), site("B", 4, 1)
    away = site("C", 4, 4, latitude=69.0, longitude=18.0)
    assert adds_most(best, [best, near, away]) is near
    assert adds_most(best, [best, away]) is away


def test_hours_of_evenings_that_are_not_offered_add_nothing() -> None:
    best, open_late = site("A", 4, 0), site("C", 3, 1)
    shut = compared(season(Place("B"), nights(4, 4, why_not="road_closed")))
    assert adds_most(best, [best, shut, open_late]) is open_late


def test_among_equals_the_better_is_laid_over() -> None:
    best, second, third = site("A", 4), site("B", 4), site("C", 4)
    assert adds_most(best, [third, second, best]) is second


def test_without_nights_there_is_nothing_to_lay_over() -> None:
    assert site_to_start_from([site("A"), site("B")]) is None
    assert adds_most(site("A", 4), [site("B")]) is None


def test_usable_hours_are_parted_by_the_instant_and_add_up_to_each_site() -> None:
    ours, theirs = [night(FIRST, 4)], [night(FIRST, 4, starts=1)]
    shared = shared_hours(ours, theirs)
    assert shared == SharedHours(both=3, only_first=1, only_second=1)
    assert (shared.of_first, shared.of_second) == (4, 4)


def test_only_the_block_that_counts_is_shared() -> None:
    dark_for_six = night(FIRST, 6)
    assert dark_for_six.block is not None
    dusk = dark_for_six.block.start
    capped = replace(dark_for_six, block=Block(dusk, dusk + timedelta(hours=4), 4))
    assert sum(end - start for start, end in usable_pairs(capped)) == 4 * 3600
    assert shared_hours([capped], [dark_for_six]) == SharedHours(4, 0, 2)


def test_where_the_moon_interrupts_only_what_is_usable_of_the_block_is_shared() -> None:
    whole = night(FIRST, 4)
    ((start, end),) = whole.moonless_out
    assert whole.block is not None
    parted = replace(
        whole,
        moonless_out=((start, start + 3600), (end - 3600, end)),
        block=replace(whole.block, hours=2),
    )
    assert shared_hours([parted], [whole]) == SharedHours(2, 0, 2)


def test_an_evening_that_is_not_offered_is_not_shared() -> None:
    closed = nights(4, why_not="closed_month")
    assert usable_pairs(closed[0]) == ()
    assert shared_hours(closed, nights(4)) == SharedHours(0, 0, 4)


def test_nights_that_the_other_site_does_not_have_are_its_own() -> None:
    assert shared_hours(nights(4, 4), nights(4)) == SharedHours(4, 4, 0)


def test_what_is_shared_adds_up_to_the_hours_of_the_table() -> None:
    one, other = site("A", 4, 3.5, 2, 0), site("B", 1, 4, 0, 2)
    shared = shared_hours(one.nights, other.nights)
    assert shared.of_first == pytest.approx(one.usable_hours)
    assert shared.of_second == pytest.approx(other.usable_hours)


def test_hours_are_only_here_on_nights_that_no_other_site_offers() -> None:
    one, other = site("A", 4, 3, 0), site("B", 4, 0, 2)
    assert only_here([one, other]) == {one.site: 3, other.site: 2}


def test_a_night_on_which_the_others_are_closed_is_offered_only_here() -> None:
    one = site("A", 4)
    shut = compared(season(Place("B"), nights(4, why_not="no_night_access")))
    assert only_here([one, shut]) == {one.site: 4, shut.site: 0}


def test_nights_that_are_not_computed_everywhere_are_nobodys() -> None:
    one, other, empty = site("A", 4, 4), site("B", 0), site("C")
    assert only_here([one, other]) == {one.site: 4, other.site: 0}
    assert set(only_here([one, other, empty]).values()) == {0}


def test_a_single_site_is_not_said_to_be_the_only_one() -> None:
    assert only_here([site("A", 4)]) == {}


def test_a_month_is_closed_where_the_site_is_on_all_of_its_nights() -> None:
    closed = [night(FIRST, 4, why_not="closed_month"), night(FIRST + ONE_DAY, 4)]
    months = [
        compared(season(Place("A"), of)).months[2027, 12]
        for of in (closed[:1], closed, nights(4, why_not="weekday"))
    ]
    assert [month.is_closed for month in months] == [True, False, False]
