"""`manage.py runs` ranks the runs of a season's sites together, and says what is missing."""

from __future__ import annotations

import csv
import io
import json
from datetime import date, timedelta
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from tests.conftest import Cast, store_nights
from tests.trips.compare_pages import add_site
from tests.trips.stored_windows import store_windows
from trips.management.commands.runs import Command
from trips.models import Season, TargetEntry

pytestmark = pytest.mark.django_db

SEASON = ("--season", "Spring 2027")


def say(*arguments: str) -> tuple[str, str]:
    out, err = io.StringIO(), io.StringIO()
    call_command("runs", *SEASON, *arguments, stdout=out, stderr=err)
    return out.getvalue(), err.getvalue()


def as_json(*arguments: str) -> list[dict[str, Any]]:
    records: list[dict[str, Any]] = json.loads(say("--format", "json", *arguments)[0])
    return records


def refusal(*arguments: str) -> str:
    with pytest.raises(CommandError) as refused:
        say(*arguments)
    assert refused.value.returncode == 2
    sentence = str(refused.value)
    assert "\n" not in sentence
    return sentence


@pytest.fixture
def broom_hill(cast: Cast) -> Cast:
    """One site, with nights of 4 h from 1 to 5 March and from 10 March on, less between."""
    store_nights(cast.site)
    return cast


def want(cast: Cast, *days: int, hours: float = 2) -> None:
    """Let the season want the galactic core, which stands right on some evenings of March."""
    core = cast.target_list.entries.all()[0]
    TargetEntry.objects.exclude(pk=core.pk).delete()
    Season.objects.update(target_list=cast.target_list)
    store_windows(core, cast.site, {date(2027, 3, day): (0, hours) for day in days})


def test_a_run_has_its_hours_its_moon_and_what_is_as_good(broom_hill: Cast) -> None:
    (run,) = as_json("--top", "1")
    assert list(run) == [
        "rank", "site", "first", "last", "hours", "spare_hours", "new_moon", "ties", "also",
        "also_hours", "wanted",
    ]  # fmt: skip
    assert (run["rank"], run["site"], run["wanted"]) == (1, "Broom Hill", "dark")
    assert (run["first"], run["last"], run["hours"]) == ("2027-03-01", "2027-03-03", 12.0)
    # New Moon on 2027-03-08 at 09:29 UTC, as published by the U.S. Naval Observatory.
    assert run["new_moon"] == "2027-03-08"
    assert ["2027-03-10", "2027-03-12"] in run["ties"]
    assert ["2027-03-05", "2027-03-07"] not in run["ties"]


def test_runs_of_all_sites_stand_in_one_order_with_shared_ranks(broom_hill: Cast) -> None:
    add_site(broom_hill, "Equal Hill")
    add_site(broom_hill, "Dim Hill", hours=1)
    runs = as_json()
    firsts = [run for run in runs if run["new_moon"] == "2027-03-08"]
    ranks = {run["site"]: run["rank"] for run in firsts}
    assert ranks["Broom Hill"] == ranks["Equal Hill"] == 1
    assert ranks["Dim Hill"] > 2
    assert [run["hours"] for run in runs] == sorted((run["hours"] for run in runs), reverse=True)


def test_runs_of_one_site_are_told_alone(broom_hill: Cast) -> None:
    add_site(broom_hill, "Equal Hill")
    assert {run["site"] for run in as_json("--site", "Equal Hill")} == {"Equal Hill"}
    assert {run["site"] for run in as_json()} == {"Broom Hill", "Equal Hill"}


def test_hours_of_wanted_targets_count_and_others_do_not(broom_hill: Cast) -> None:
    want(broom_hill, 5, 6, 7)
    run, *_others = as_json("--length", "3")
    assert (run["first"], run["hours"], run["wanted"]) == ("2027-03-05", 6.0, "Summer sky")


def test_the_dark_alone_can_be_asked_for(broom_hill: Cast) -> None:
    want(broom_hill, 5, 6, 7)
    run, *_others = as_json("--targets", "dark")
    assert (run["first"], run["hours"], run["wanted"]) == ("2027-03-01", 12.0, "dark")


def test_a_list_can_be_asked_for_that_the_season_does_not_want(broom_hill: Cast) -> None:
    want(broom_hill, 5, 6, 7)
    Season.objects.update(target_list=None)
    assert as_json("--targets", "Summer sky")[0]["first"] == "2027-03-05"
    assert as_json()[0]["first"] == "2027-03-01"


@pytest.mark.parametrize("length", [1, 2, 7, 14])
def test_a_run_has_the_length_asked_for(length: int, broom_hill: Cast) -> None:
    for run in as_json("--length", str(length)):
        first, last = date.fromisoformat(run["first"]), date.fromisoformat(run["last"])
        assert last - first == timedelta(days=length - 1)


def test_other_weekdays_are_not_offered(broom_hill: Cast) -> None:
    runs = as_json("--weekdays", "fri,sat,sun")
    assert {date.fromisoformat(run["first"]).strftime("%a") for run in runs} == {"Fri"}
    everyday = as_json()
    assert {date.fromisoformat(run["first"]).strftime("%a") for run in everyday} != {"Fri"}


def test_no_more_runs_are_told_than_asked_for_and_equals_left_out_are_counted(
    broom_hill: Cast,
) -> None:
    add_site(broom_hill, "Equal Hill")
    out, err = say("--top", "1")
    assert len(out.splitlines()) == 2
    assert "more run is as good as the last of these" in err or "more runs are as good" in err
    assert say("--top", "100")[1] == ""


def test_csv_and_table_give_the_same_runs_as_json(broom_hill: Cast) -> None:
    expected = as_json()
    rows = list(csv.DictReader(io.StringIO(say("--format", "csv")[0])))
    assert [(row["rank"], row["first"]) for row in rows] == [
        (str(run["rank"]), run["first"]) for run in expected
    ]
    assert rows[0]["ties"].split()[0].split("/")[0] == expected[0]["ties"][0][0]
    heading, *lines = say()[0].splitlines()
    assert heading.split()[:4] == ["rank", "site", "first", "last"]
    assert [run["first"] in line for run, line in zip(expected, lines, strict=True)] == [
        True for _run in expected
    ]


def test_what_is_not_computed_is_said_beside_the_runs(broom_hill: Cast) -> None:
    add_site(broom_hill, "New Hill", hours=None)
    out, err = say()
    assert "Broom Hill" in out
    assert err == (
        "Note: at New Hill 31 nights are not computed; "
        "“manage.py season 'Spring 2027'” computes them.\n"
    )


def test_windows_that_are_not_computed_are_said(broom_hill: Cast) -> None:
    Season.objects.update(target_list=broom_hill.target_list)
    out, err = say()
    assert len(out.splitlines()) == 1
    assert err == (
        "Note: at Broom Hill 2 windows of targets are missing; “manage.py season 'Spring 2027'” "
        "computes them.\nNote: no run of 3 nights that is offered has a usable hour.\n"
    )


def test_what_is_computed_is_not_complained_of(broom_hill: Cast) -> None:
    want(broom_hill, 5, 6, 7)
    assert say()[1] == ""


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--length", "0"), "--length: 0 is fewer than one."),
        (("--length", "15"), "--length: 15 is more than 14 nights."),
        (("--length", "-3"), "--length: “-3” is not a whole number from 1 on."),
        (("--length", "2.5"), "--length: “2.5” is not a whole number from 1 on."),
        (("--top", "0"), "--top: 0 is fewer than one."),
        (("--top", "many"), "--top: “many” is not a whole number from 1 on."),
        (("--weekdays", "fry"), "--weekdays: “fry” is no weekday; there are mon, tue, wed, "),
        (("--weekdays", ""), "--weekdays: “” is no weekday; "),
        (("--season", "Sprong 2027"), "There is no season “Sprong 2027”; known are: “Spring 20"),
        (("--organisation", "Other"), "There is no season “Spring 2027”; "),
        (("--site", "Boom Hill"), "--site: “Boom Hill” is no site of this season; it has: “Broom"),
        (
            ("--targets", "Sumer sky"),
            "--targets: “Sumer sky” is no target list of “Meadow Night Club”; known are: “Summer s",
        ),
    ],
)
def test_nonsense_is_refused_in_a_sentence(
    arguments: tuple[str, ...], sentence: str, broom_hill: Cast
) -> None:
    assert broom_hill.target_list.name == "Summer sky"
    assert refusal(*arguments).startswith(sentence)


def test_a_season_without_sites_is_refused(cast: Cast) -> None:
    cast.season.sites.clear()
    assert refusal() == "Season “Spring 2027” has no sites yet; choose some on its page."


def test_a_name_of_two_organisations_is_refused_until_one_is_named(broom_hill: Cast) -> None:
    Season.objects.create(
        organisation=broom_hill.elsewhere,
        name="Spring 2027",
        first_night=date(2027, 3, 1),
        last_night=date(2027, 3, 3),
    )
    assert "add --organisation: “" in refusal()
    assert "Broom Hill" in say("--organisation", "Meadow Night Club")[0]


def test_help_shows_an_example() -> None:
    text = Command().create_parser("manage.py", "runs").format_help()
    assert "manage.py runs --season 'Season 2027' --length 3 --weekdays fri,sat,sun" in text
