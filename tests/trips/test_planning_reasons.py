"""Why a run, and what speaks against it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time, timedelta
from types import SimpleNamespace
from typing import Any

import pytest

from tests.trips.test_planning_season_view import Row, row
from trips.planning.barred import Barred
from trips.planning.candidates import judge
from trips.planning.nights import Wishes
from trips.planning.reasons import Reason, RunOfNights, reasons_against, reasons_for
from trips.planning.runs import Stretch
from trips.templatetags.runs import SENTENCES, words

FIRST = date(2027, 2, 5)
TODAY = date(2026, 12, 1)
WITHIN = datetime(2027, 2, 6, 16, tzinfo=UTC)
LATER = datetime(2027, 2, 9, 16, tzinfo=UTC)


@dataclass(frozen=True)
class DarkRow(Row):
    dark_18: list[list[float]] = field(default_factory=list)


def site(**facts: Any) -> SimpleNamespace:
    known = {
        "zone": "UTC",
        "night_access": "yes",
        "permit_number": "",
        "permit_lead_days": None,
        "largest_group": None,
        "drive_minutes": None,
    }
    return SimpleNamespace(**known | facts)


def run(
    *moonless: float,
    dark: float | None = None,
    moon: datetime = LATER,
    wishes: Wishes | None = None,
) -> RunOfNights:
    """Make nights that are dark from 20:00 UTC; without `dark` the Moon takes none of it."""
    made = [row(FIRST + timedelta(days=n), hours) for n, hours in enumerate(moonless)]
    rows = [
        _dark(each, hours if dark is None else dark)
        for each, hours in zip(made, moonless, strict=True)
    ]
    judged = [judge(each, wishes or Wishes(), "UTC") for each in rows]
    return RunOfNights(judged, rows, moon)


def _dark(night: Row, hours: float) -> Row:
    eight = (night.start + timedelta(hours=8)).timestamp()
    return DarkRow(**{name: getattr(night, name) for name in Row.__dataclass_fields__},
                   dark_18=[[eight, eight + hours * 3600]])  # fmt: skip


def against(of: RunOfNights, wishes: Wishes, site: Any) -> tuple[Reason, ...]:
    return reasons_against(of, wishes, site, today=TODAY)


def codes(reasons: tuple[Reason, ...]) -> list[str]:
    return [reason.code for reason in reasons]


def test_a_new_moon_within_the_run_is_named_as_a_night() -> None:
    (moon, _hours) = reasons_for(run(4, 4, moon=WITHIN), Wishes(), "UTC")
    assert (
        words(moon, "UTC")
        == "New Moon in the night of Saturday 6 February: no moonlight in the dark."
    )


def test_a_new_moon_outside_the_run_is_named_as_a_date() -> None:
    (moon, _hours) = reasons_for(run(4, 4), Wishes(), "UTC")
    assert moon.code == "no_moonlight"
    assert "new Moon on 9 February" in words(moon, "UTC")


def test_a_run_with_moonlight_does_not_say_that_there_is_none() -> None:
    found = reasons_for(run(3, 3, dark=5), Wishes(), "UTC")
    assert codes(found) == ["between"]


def test_what_the_moon_takes_counts_only_while_people_are_out() -> None:
    # Dark from 20:00 to 04:00, out until 02:00: six hours a night, of which three are moonless.
    (moon, *_rest) = against(run(3, 3, dark=8), Wishes(), site())
    assert moon.code == "moon_costs"
    assert moon.fields["hours"] == pytest.approx(6)


def test_full_nights_say_what_is_in_hand() -> None:
    (_moon, hours) = reasons_for(run(5.5, 5), Wishes(), "UTC")
    assert hours.code == "full_nights"
    assert words(hours, "UTC") == "Counted 20:00–00:00, with at least 1.0\u00a0h more in hand."


def test_full_nights_with_nothing_in_hand_do_not_speak_of_it() -> None:
    assert codes(reasons_for(run(4, 4), Wishes(), "UTC"))[-1] == "between"


def test_a_short_run_says_until_when_staying_would_add_hours() -> None:
    early = Wishes(out_until=time(22))
    (longer,) = against(run(3.5, 3.5, wishes=early), early, site())
    # Both nights end at 23:30: half past is reached by the hour after.
    assert longer.fields["until"] == time(0)
    assert longer.fields["hours"] == pytest.approx(3)


def test_a_run_that_cannot_gain_does_not_say_so() -> None:
    assert codes(against(run(3, 3), Wishes(), site())) == ["nothing"]


def test_staying_longer_is_not_tried_beyond_the_morning() -> None:
    late = Wishes(out_until=time(7))
    assert codes(against(run(1, 1, wishes=late), late, site())) == ["nothing"]


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        ({"night_access": "unknown"}, "Nobody has asked yet"),
        ({"night_access": "permit"}, "Needs a permit that has not been given yet."),
        ({"night_access": "permit", "permit_lead_days": 30}, "ask for it by 6 January 2027."),
        ({"night_access": "permit", "permit_lead_days": 90}, "had to be asked for by 7 November"),
        ({"largest_group": 12}, "At most 12 people there."),
        ({"largest_group": 1}, "At most 1 person there."),
        ({"drive_minutes": 95}, "95 min to drive home after 00:00: plan rest"),
    ],
)
def test_what_people_must_do_is_said(facts: dict[str, Any], said: str) -> None:
    (reason,) = against(run(4, 4), Wishes(), site(**facts))
    assert said in words(reason, "UTC")


@pytest.mark.parametrize(
    "facts",
    [{"night_access": "permit", "permit_number": "7/2027"}, {"drive_minutes": 59}, {}],
)
def test_what_is_settled_is_not_said(facts: dict[str, Any]) -> None:
    assert codes(against(run(4, 4), Wishes(), site(**facts))) == ["nothing"]


def test_a_permit_can_be_asked_for_until_its_last_day() -> None:
    facts = site(night_access="permit", permit_lead_days=(FIRST - TODAY).days)
    assert codes(against(run(4, 4), Wishes(), facts)) == ["needs_permit"]


def test_public_holidays_of_the_run_are_named() -> None:
    busy = replace(run(4, 4), holidays={FIRST: "Feast of Lamps"})
    (reason,) = against(busy, Wishes(), site())
    assert words(reason, "UTC") == (
        "Public holiday, so roads and beds fill up: Friday 5 February is Feast of Lamps."
    )


def test_a_better_run_that_is_not_offered_is_named_with_why() -> None:
    stretch = Stretch(date(2027, 2, 2), date(2027, 2, 3), 7.5, 2)
    kept_from = replace(run(4, 4), barred=Barred(stretch, ("road_closed", "avoided")))
    (reason,) = against(kept_from, Wishes(), site())
    assert words(reason, "UTC") == ("Tue 2 to Wed 3 Feb would give 7.5 h: road closed, to avoid.")


def test_the_hours_of_the_most_wanted_target_are_told() -> None:
    wanted = replace(run(4, 4), most_wanted=("Galactic core", [2.3, 0.0]))
    *_rest, most = reasons_for(wanted, Wishes(), "UTC")
    assert words(most, "UTC") == "Galactic core stands right 2.3, none h while you are out."


def test_a_run_without_the_most_wanted_target_says_so_and_not_nothing() -> None:
    wanted = replace(run(4, 4), most_wanted=("Galactic core", [0.0, 0.0]))
    assert codes(reasons_for(wanted, Wishes(), "UTC"))[-1] != "most_wanted"
    (against_it,) = against(wanted, Wishes(), site())
    assert words(against_it, "UTC") == "Galactic core never stands right while you are out."


def test_times_are_those_of_the_zone() -> None:
    (_moon, hours) = reasons_for(run(4, 4), Wishes(), "UTC")
    assert "Counted 21:00–01:00." in words(hours, "Europe/Madrid")


def blocks(*times: tuple[datetime, datetime]) -> Reason:
    return Reason("between", {"blocks": list(times), "in_hand": 0.0})


def evening(day: int, start: int, end: int) -> tuple[datetime, datetime]:
    """Make a block of that evening from minutes after 20:00 UTC."""
    dusk = datetime(2027, 10, day, 20, tzinfo=UTC)
    return dusk + timedelta(minutes=start), dusk + timedelta(minutes=end)


def test_nights_that_are_all_but_alike_are_told_once() -> None:
    alike = blocks(evening(1, 0, 240), evening(2, 3, 243), evening(3, 5, 245))
    assert words(alike, "UTC") == "Counted about 20:00–00:00."


def test_nights_across_a_change_of_clocks_are_told_one_by_one() -> None:
    # In Madrid 30 October begins on summer time and ends an hour later on winter time.
    changing = blocks(evening(29, 0, 240), evening(31, 0, 240))
    assert words(changing, "Europe/Madrid") == "Counted 22:00–02:00, 21:00–01:00."


def test_of_many_different_nights_the_ends_are_told() -> None:
    many = blocks(*(evening(day, 20 * day, 240) for day in range(1, 7)))
    told = "Counted 20:20–00:00 on the first night to 22:00–00:00 on the last."
    assert words(many, "UTC") == told


def test_the_drive_home_is_after_the_latest_end() -> None:
    ends = [evening(29, 0, 240)[1], evening(31, 0, 240)[1]]
    drive = Reason("long_drive", {"minutes": 95, "ends": ends})
    assert "after 02:00" in words(drive, "Europe/Madrid")


def test_every_reason_has_its_sentence() -> None:
    used = {"new_moon_within", "no_moonlight", "full_nights", "between", "moon_costs", "nothing"}
    used |= {"longer_would_add", "access_unknown", "needs_permit", "long_drive"}
    used |= {"permit_too_late", "group_limit", "holidays", "better_barred"}
    used |= {"most_wanted", "without_most_wanted"}
    assert set(SENTENCES) == used
