"""The controls of a season's page: read from an address, written to one."""

from __future__ import annotations

from datetime import date, time

import pytest
from django.http import QueryDict

from trips.forms.controls import read_controls, write_controls
from trips.models import Season
from trips.planning.nights import Wishes

pytestmark = pytest.mark.django_db  # lists of targets are read

SEASON = Season(
    name="Spring",
    first_night=date(2027, 1, 1),
    last_night=date(2027, 12, 31),
    run_length=2,
    weekdays=[4, 5],
    out_until=time(3),
    avoid=[["2027-03-25", "2027-03-28"]],
)


def wishes(query: str) -> Wishes:
    return read_controls(QueryDict(query), SEASON).wishes


def test_an_empty_address_gives_the_season_as_it_is() -> None:
    controls = read_controls(QueryDict(""), SEASON)
    assert controls.wishes == Wishes.of(SEASON)
    assert controls.mistakes == ()
    assert write_controls(controls.wishes, SEASON) == {}


def test_what_is_asked_goes_before_what_is_stored() -> None:
    found = wishes("run=4&days=mon&from=21:30&until=1&dark=-15&avoid=1+May")
    assert (found.run_length, found.weekdays, found.dark_level) == (4, frozenset({0}), -15)
    assert (found.out_from, found.out_until) == (time(21, 30), time(1))
    assert found.avoid == ((date(2027, 5, 1), date(2027, 5, 1)),)


def test_what_is_not_asked_stays_as_stored() -> None:
    assert wishes("run=4") == Wishes(
        run_length=4,
        weekdays=frozenset({4, 5}),
        out_until=time(3),
        avoid=((date(2027, 3, 25), date(2027, 3, 28)),),
    )


def test_an_empty_field_of_the_form_is_an_answer_where_it_may_be_empty() -> None:
    assert wishes("avoid=").avoid == ()
    assert wishes("from=").out_from is None


@pytest.mark.parametrize("query", ["run=0", "run=x", "days=x", "until=24:00", "dark=0", "avoid=x"])
def test_a_mistake_leaves_the_season_as_it_is_and_is_said(query: str) -> None:
    controls = read_controls(QueryDict(query), SEASON)
    assert controls.wishes == Wishes.of(SEASON)
    (said,) = controls.mistakes
    assert said.endswith("The season's own is used.")


def test_a_mistake_in_one_control_does_not_undo_the_others() -> None:
    assert wishes("run=4&until=nonsense").run_length == 4


def test_the_address_says_only_what_differs() -> None:
    asked = "asked=1&run=2&days=fri&days=sat&days=sun&until=03:00&dark=-18&from=&avoid=25-28+March"
    assert write_controls(wishes(asked), SEASON) == {"days": ["fri", "sat", "sun"]}


def test_hours_with_a_comma_are_read() -> None:
    assert wishes("most=3,5").most_hours_out == 3.5


@pytest.mark.parametrize(
    ("query", "sentence"),
    [
        ("most=25", "25 is out of range: it must be from 0.5 to 24."),
        ("most=many", "“many” is not a number; write it like 4."),
        ("most=", "write it like 4."),
        ("until=", "write it like 02:00."),
    ],
)
def test_a_mistake_is_said_with_what_would_be_right(query: str, sentence: str) -> None:
    (said,) = read_controls(QueryDict(query), SEASON).mistakes
    assert sentence in said
