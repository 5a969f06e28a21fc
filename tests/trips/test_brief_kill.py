"""Many publish at the same instant; a worker is killed in the middle of mailing 200 people.

The letter in hand at the kill may go a second time, then with the same Message-ID: each person
has one letter, counted by that.
"""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.trips.services_at_hand import postgresql_url
from tests.trips.stage import Stage, kill, wait_until

PEOPLE, PRESSERS = 200, 8
PLACES = {f"n{number}@meadow.example" for number in range(PEOPLE)}
IN_HAND = 1


def test_eight_who_publish_at_once_publish_one_version_on_sqlite(tmp_path: Path) -> None:
    _one_version(Stage(tmp_path, {}))


@pytest.mark.postgresql
def test_eight_who_publish_at_once_publish_one_version_on_postgresql(tmp_path: Path) -> None:
    with postgresql_url() as url:
        _one_version(Stage(tmp_path, {"DATABASE_URL": url}))


def _one_version(stage: Stage) -> None:
    assert stage.run("-m", "tests.trips.brief_crowd", "press", str(PRESSERS)).split() == ["1", "1"]


@pytest.mark.kill
def test_after_a_kill_while_mailing_each_of_200_has_one_letter(tmp_path: Path) -> None:
    stage = Stage(tmp_path, {"FIELDNIGHTS_BROKER_URL": "filesystem://"})
    stage.run("-m", "tests.trips.brief_crowd", "mail", str(PEOPLE))
    with stage.worker("threads") as worker:
        wait_until(lambda: len(mailed(stage)) > PEOPLE // 10, stage)
        kill(worker)
    before = len(mailed(stage))
    assert before < PEOPLE, "the kill must hit a worker that still mails"
    # What it had in hand is another one's once its lease is over.
    change(stage, "UPDATE trips_letter SET lease_expires_at = '2020-01-01' WHERE state = 'sending'")
    with stage.worker("threads"):
        wait_until(lambda: {to for to, _ in mailed(stage)} >= PLACES, stage)
        wait_until(lambda: not left(stage), stage)
    letters = mailed(stage)
    assert len(set(letters)) == PEOPLE
    assert len(letters) - PEOPLE <= IN_HAND
    assert {to for to, _number in letters} == PLACES


def mailed(stage: Stage) -> list[tuple[str, str]]:
    """Give reader and number of each letter of a brief that was handed over."""
    pattern = re.compile(rb"^Subject: Your brief.*?^To: (\S+).*?^Message-ID: (\S+)", re.M | re.S)
    files = (stage.folder / "mail").glob("*.log")
    found = [one for path in files for one in pattern.findall(path.read_bytes())]
    return [(to.decode(), number.decode()) for to, number in found]


def left(stage: Stage) -> int:
    return int(ask(stage, "SELECT COUNT(*) FROM trips_letter WHERE state != 'sent'"))


def ask(stage: Stage, question: str) -> int:
    with closing(sqlite3.connect(stage.folder / "fieldnights.sqlite3", timeout=20)) as database:
        return int(database.execute(question).fetchone()[0])


def change(stage: Stage, rows: str) -> None:
    with closing(sqlite3.connect(stage.folder / "fieldnights.sqlite3", timeout=20)) as database:
        database.execute(rows)
        database.commit()
