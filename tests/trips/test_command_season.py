"""`manage.py season` computes what is missing, and says what a season is worth at each site."""

from __future__ import annotations

import csv
import io
import json
from datetime import date

import pytest
from django.core.management import CommandError, call_command

from tests.trips.making import FIRST, LAST, dates_of, make_organisation, make_season, make_site
from trips.models import Job

pytestmark = pytest.mark.django_db


def say(*arguments: str) -> tuple[str, str]:
    out, err = io.StringIO(), io.StringIO()
    call_command("season", *arguments, stdout=out, stderr=err)
    return out.getvalue(), err.getvalue()


def test_it_computes_every_night_of_every_site() -> None:
    near = make_site()
    far = make_site(near.organisation, name="Far hill", latitude=69.1, longitude=18.6)
    make_season(near, far)
    say("Spring")
    assert len(dates_of(near)) == len(dates_of(far)) == 10
    assert {job.state for job in Job.objects.all()} == {"done"}


def test_it_does_not_compute_again_what_is_there() -> None:
    make_season(make_site())
    say("Spring")
    _out, err = say("Spring")
    assert err == "Every night is there and up to date.\n"
    assert Job.objects.count() == 1


def test_json_gives_the_figures_of_each_site() -> None:
    make_season(make_site())
    (record,) = json.loads(say("Spring", "--format", "json")[0])
    assert record["site"] == "Hill"
    assert record["nights"] == 10
    assert date.fromisoformat(record["best_run_first"]) >= FIRST
    assert 0 < record["moonless_hours"] <= record["dark_hours"] < 10 * 12
    # New Moon on 2027-03-08: three nights of four hours, the most that a season counts.
    assert record["best_run_hours"] == 12.0


def test_csv_gives_the_same_figures_as_json() -> None:
    make_season(make_site())
    (expected,) = json.loads(say("Spring", "--format", "json")[0])
    (row,) = csv.DictReader(io.StringIO(say("Spring", "--format", "csv")[0]))
    assert row == {key: str(value) for key, value in expected.items()}


def test_the_table_names_the_site_and_its_best_run() -> None:
    make_season(make_site())
    (record,) = json.loads(say("Spring", "--format", "json")[0])
    heading, line = say("Spring")[0].splitlines()
    assert heading.startswith("site")
    assert line.startswith("Hill")
    assert record["best_run_first"] in line


def test_a_name_that_nobody_knows_is_refused_with_those_that_are_known() -> None:
    make_season(make_site())
    with pytest.raises(CommandError, match="no season “Sprong”; known are: “Spring”") as refusal:
        say("Sprong")
    assert refusal.value.returncode == 2


def test_a_name_of_two_organisations_is_refused_until_one_is_named() -> None:
    own, foreign = make_site(), make_site(make_organisation("Other club"))
    make_season(own)
    make_season(foreign)
    with pytest.raises(CommandError, match="--organisation"):
        say("Spring")
    say("Spring", "--organisation", "Other club")
    assert (len(dates_of(own)), len(dates_of(foreign))) == (0, (LAST - FIRST).days + 1)


def test_a_site_that_cannot_be_computed_is_named() -> None:
    make_season(make_site(latitude=123.0))
    with pytest.raises(CommandError, match=r"Hill: .*123"):
        say("Spring")
