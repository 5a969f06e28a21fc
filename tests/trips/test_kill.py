"""A worker killed in the middle of a season: after a restart every night is there once."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.trips.services_at_hand import redis_url
from tests.trips.stage import FIRST, LAST, NIGHTS_A_SITE, Stage, kill, wait_until

pytestmark = pytest.mark.kill

SITES = 8
# Kept at no dark level: a row each for a site and year.
WANTED = ("planet:venus", "planet:mars", "planet:jupiter", "planet:saturn", "moon:moon")
YEARS = LAST.year - FIRST.year + 1


@pytest.fixture
def file_broker() -> str:
    return "filesystem://"


@pytest.fixture
def redis_broker() -> Iterator[str]:
    with redis_url() as url:
        yield url


@pytest.mark.parametrize(
    ("broker", "pool"), [("file_broker", "threads"), ("redis_broker", "prefork")]
)
def test_after_a_kill_and_a_restart_every_night_is_there_once(
    broker: str, pool: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    stage = Stage(tmp_path, {"FIELDNIGHTS_BROKER_URL": request.getfixturevalue(broker)})
    stage.run("-m", "tests.trips.stage", str(SITES))

    with stage.worker(pool) as worker:
        wait_until(lambda: count(stage, "SELECT COUNT(*) FROM trips_night") > 0, stage)
        kill(worker)
    in_flight = ids(stage, "SELECT id FROM trips_job WHERE state = 'running'")
    stored = count(stage, "SELECT COUNT(*) FROM trips_night")
    assert in_flight, "the kill must hit a job at work"
    assert 0 < stored < SITES * NIGHTS_A_SITE

    with stage.worker(pool):
        wait_until(
            lambda: count(stage, "SELECT COUNT(*) FROM trips_job WHERE state != 'done'") == 0, stage
        )
    assert nights_by_site(stage) == dict.fromkeys(range(1, SITES + 1), every_date())
    attempts = dict(rows(stage, "SELECT id, attempts FROM trips_job"))
    # More than twice where a slow machine lets a lease run out.
    assert all(attempts[job] >= 2 for job in in_flight)
    assert len(attempts) == SITES


def test_after_a_kill_windows_of_a_year_are_there_whole_or_not_at_all(
    file_broker: str, tmp_path: Path
) -> None:
    stage = Stage(tmp_path, {"FIELDNIGHTS_BROKER_URL": file_broker})
    stage.run("-m", "tests.trips.stage", str(SITES), *WANTED)

    with stage.worker("threads") as worker:
        wait_until(lambda: bool(windows_by_year(stage)), stage)
        kill(worker)
    at_work = "SELECT id FROM trips_job WHERE state = 'running' AND kind = 'target_windows'"
    assert ids(stage, at_work), "the kill must hit a job at work"
    stored = windows_by_year(stage)
    assert set(stored.values()) == {len(WANTED)}
    assert len(stored) < SITES * YEARS

    with stage.worker("threads"):
        wait_until(
            lambda: count(stage, "SELECT COUNT(*) FROM trips_job WHERE state != 'done'") == 0, stage
        )
    assert len(windows_by_year(stage)) == SITES * YEARS
    assert set(windows_by_year(stage).values()) == {len(WANTED)}


def windows_by_year(stage: Stage) -> dict[tuple[int, int], int]:
    """Count the stored windows of each site and year."""
    question = "SELECT site_id, year, COUNT(*) FROM trips_targetwindows GROUP BY site_id, year"
    return {(site, year): number for site, year, number in rows(stage, question)}


def every_date() -> Counter[str]:
    return Counter(str(FIRST + timedelta(days=n)) for n in range(NIGHTS_A_SITE))


def nights_by_site(stage: Stage) -> dict[int, Counter[str]]:
    found: dict[int, Counter[str]] = {}
    for site, date in rows(stage, "SELECT site_id, date FROM trips_night"):
        found.setdefault(site, Counter())[date] += 1
    return found


def count(stage: Stage, question: str) -> int:
    return int(rows(stage, question)[0][0])


def ids(stage: Stage, question: str) -> list[int]:
    return [row[0] for row in rows(stage, question)]


def rows(stage: Stage, question: str) -> list[tuple[Any, ...]]:
    with closing(sqlite3.connect(stage.folder / "fieldnights.sqlite3", timeout=20)) as database:
        return database.execute(question).fetchall()
