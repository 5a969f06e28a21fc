"""Sites beside each other: sums, the order of columns, and which is named."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tests.trips.compared_sites import FIRST, ONE_DAY, Place, names, night, nights, season, site
from trips.planning.choosing import answer, drives
from trips.planning.comparing import compared, figure, in_order


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


def test_a_month_is_closed_where_the_site_is_on_all_of_its_nights() -> None:
    closed = [night(FIRST, 4, why_not="closed_month"), night(FIRST + ONE_DAY, 4)]
    months = [
        compared(season(Place("A"), of)).months[2027, 12]
        for of in (closed[:1], closed, nights(4, why_not="weekday"))
    ]
    assert [month.is_closed for month in months] == [True, False, False]


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


def test_with_targets_their_hours_are_one_column_and_the_dark_another() -> None:
    evening = replace(night(FIRST, 3), moonless_usable_hours=5)
    found = compared(season(Place("both"), [evening]), by_targets=True)
    assert (figure(found, "targets"), figure(found, "usable")) == (180, 300)
    assert (found.usable_hours, found.moonless_usable_hours) == (3, 5)
    assert [month.ink for month in found.months.values()] == [5]


def test_without_targets_both_columns_are_of_the_dark_and_bars_of_moonless_hours() -> None:
    found = compared(season(Place("dark"), [night(FIRST, 3)]))
    assert figure(found, "targets") == figure(found, "usable") == 180
    assert [month.ink for month in found.months.values()] == [4]


def test_dark_of_evenings_that_are_not_offered_is_not_usable() -> None:
    evenings = [night(FIRST, 3), night(FIRST + ONE_DAY, 4, why_not="weekday")]
    found = compared(season(Place("both"), evenings), by_targets=True)
    assert found.moonless_usable_hours == 3


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
