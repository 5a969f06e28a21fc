"""The same migrations and jobs on a real PostgreSQL."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

from tests.trips.services_at_hand import postgresql_url
from tests.trips.stage import NIGHTS_A_SITE, Stage, wait_until

pytestmark = pytest.mark.postgresql

SITES = 2


@pytest.fixture
def stage(tmp_path: Path) -> Iterator[Stage]:
    with postgresql_url() as url:
        yield Stage(tmp_path, {"DATABASE_URL": url})


def test_nights_and_windows_are_computed_stored_and_read_on_postgresql(stage: Stage) -> None:
    stage.run("manage.py", "migrate", "--verbosity", "0")
    stage.run("-m", "tests.trips.stage", str(SITES), "planet:jupiter", "deep-sky:NGC0224")
    with psycopg.connect(stage.settings["DATABASE_URL"], autocommit=True) as database:
        with stage.worker("threads"):
            wait_until(lambda: not rows(database, "state != 'done'"), stage)
        assert len(rows(database, "done = total AND kind = 'site_nights'")) == SITES
        by_site = database.execute(
            "SELECT COUNT(*), COUNT(DISTINCT date) FROM trips_night GROUP BY site_id"
        ).fetchall()
        windows = database.execute(
            "SELECT COUNT(*), MAX(LENGTH(spans) % 16), MIN(LENGTH(spans)) > 0"
            " FROM trips_targetwindows GROUP BY site_id"
        ).fetchall()
    assert by_site == [(NIGHTS_A_SITE, NIGHTS_A_SITE)] * SITES
    # Three years of a nebula at three dark levels and in usable dark, and of a planet in its light.
    assert windows == [(3 * (3 + 1) + 3, 0, True)] * SITES
    ranked = json.loads(
        stage.run("manage.py", "runs", "--season", "Three years", "--top", "3", "--format", "json")
    )
    assert len(ranked) == 3
    assert all(run["hours"] > 0 for run in ranked)


def test_the_migrations_can_be_taken_back_and_made_again(stage: Stage) -> None:
    for target in (["migrate"], ["migrate", "trips", "zero"], ["migrate"]):
        stage.run("manage.py", *target, "--verbosity", "0")
    assert "No changes" in stage.run("manage.py", "makemigrations", "--check", "--dry-run")


def rows(database: psycopg.Connection[tuple[object, ...]], where: str) -> list[tuple[object, ...]]:
    return database.execute(f"SELECT id FROM trips_job WHERE {where}".encode()).fetchall()
