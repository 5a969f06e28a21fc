"""Two editors of one row: what only one changed is kept, what both changed is asked about."""

from __future__ import annotations

from trips.services.merging import Merge, merge

OPENED = {"name": "Hill", "notes": "", "drive": "60"}


def test_what_only_the_other_changed_is_taken_over() -> None:
    assert merge(OPENED, OPENED, OPENED | {"notes": "Windy"}) == Merge(("notes",), ())


def test_what_only_this_editor_changed_stays_as_typed() -> None:
    assert merge(OPENED, OPENED | {"notes": "Windy"}, OPENED) == Merge((), ())


def test_what_both_changed_differently_clashes() -> None:
    found = merge(OPENED, OPENED | {"notes": "Calm"}, OPENED | {"notes": "Windy"})
    assert found == Merge((), ("notes",))


def test_what_both_changed_alike_does_not_clash() -> None:
    both = OPENED | {"notes": "Windy"}
    assert merge(OPENED, both, both) == Merge((), ())


def test_what_nobody_changed_is_in_no_list() -> None:
    assert merge(OPENED, OPENED, OPENED) == Merge((), ())


def test_each_value_is_judged_by_itself() -> None:
    typed = {"name": "Fell", "notes": "", "drive": "75"}
    stored = {"name": "Tor", "notes": "Windy", "drive": "60"}
    assert merge(OPENED, typed, stored) == Merge(("notes",), ("name",))


def test_what_the_other_emptied_is_taken_over_as_empty() -> None:
    assert merge(OPENED, OPENED, OPENED | {"drive": ""}) == Merge(("drive",), ())


def test_a_row_that_the_other_took_off_clashes_only_where_it_was_changed() -> None:
    opened = {"row 1": "Edge", "row 2": "Tide"}
    typed = {"row 1": "Edge", "row 2": "Tide and surf"}
    assert merge(opened, typed, {}) == Merge(("row 1",), ("row 2",))


def test_without_what_was_opened_all_that_differs_clashes() -> None:
    assert merge(None, OPENED, OPENED | {"notes": "Windy"}) == Merge((), ("notes",))


def test_without_what_was_opened_what_is_equal_does_not_clash() -> None:
    assert merge(None, OPENED, OPENED) == Merge((), ())
