"""What is deleted of people is in no file any more; a restored backup serves nobody before that.

Run as a module it fills the database that the environment names with a trip that is long over.
"""

from __future__ import annotations

import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psutil
import pytest

from tests.trips.services_at_hand import free_port, wait_for_port
from tests.trips.stage import ROOT, Stage, kill, wait_until

# Stands in every text that is kept of people; small, as mail addresses are.
MARK = "vantongeren"
PEOPLE = 60  # enough for pages of their own, and pages that others share


@pytest.fixture(scope="module")
def backup(tmp_path_factory: pytest.TempPathFactory) -> Path:
    stage = Stage(tmp_path_factory.mktemp("backup"), {})
    stage.run("-m", "tests.trips.test_forgotten_for_good")
    return stage.folder


def restored(backup: Path, folder: Path) -> Stage:
    for name in ("fieldnights.sqlite3", "secret-key", "link-key"):
        (folder / name).write_bytes((backup / name).read_bytes())
    assert times_marked(folder) > 10 * PEOPLE
    return Stage(folder, {"DJANGO_SETTINGS_MODULE": "shared.settings.demo"})


def times_marked(folder: Path) -> int:
    """Count the mark in the bytes of every file, whatever it is."""
    files = [file for file in folder.rglob("*") if file.is_file()]
    return sum(file.read_bytes().lower().count(MARK.encode()) for file in files)


def test_a_restored_backup_forgets_who_is_due_before_it_answers(
    backup: Path, tmp_path: Path
) -> None:
    stage = restored(backup, tmp_path)
    with served(stage) as port:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=20) as answer:
            assert answer.status == 200
        # The server runs on: nothing waits for its last connection to be closed.
        assert times_marked(tmp_path) == 0


@pytest.mark.kill
def test_a_worker_forgets_who_is_due_before_it_writes_to_anybody(
    backup: Path, tmp_path: Path
) -> None:
    stage = restored(backup, tmp_path)
    with stage.worker("threads"):
        wait_until(lambda: "ready." in stage.log(), stage)
        assert times_marked(tmp_path) == 0


@contextmanager
def served(stage: Stage) -> Iterator[int]:
    port = free_port()
    server = subprocess.Popen(
        [sys.executable, "-m", "granian", "--interface", "wsgi", "--port", str(port),
         "shared.wsgi:application"],
        cwd=ROOT, env=stage.environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        wait_for_port(port)
        yield port
    finally:
        kill(psutil.Process(server.pid))
        server.wait()


def _fill() -> None:
    now = timezone.now()
    user = make_user("leader@example.org")
    trip = make_joinable(capacity=PEOPLE)
    lead(trip, user)
    fill(trip, PEOPLE, now=now)
    long_ago = now - timedelta(days=400)
    trip.nights.update(meeting_at=long_ago, ends_at=long_ago + timedelta(hours=6), closed_at=now)
    Enrolment.objects.update(health_consent_at=now)
    for enrolment in trip.enrolments.all():
        queue("placed", key=f"{enrolment.uid}", trip=trip, enrolment=enrolment, due_at=now)
    queue("call_out_contact", key="c", trip=trip, night=trip.nights.first(), due_at=now)
    models: set[type[Model]] = {Person, OwnGear, *ROWS, *COLUMNS}
    for model in models:
        for row in model._default_manager.all():
            _mark(row)


def _mark(row: Any) -> None:
    """Write the mark into what is kept of people; each row's own, as names and numbers are."""
    own = {
        Person: ("name", "mail", "phone", "emergency_name", "emergency_phone"),
        Enrolment: ("health_note", "wish"),
        OwnGear: ("name", "spec"),
        Car: ("name",),
    }
    for column in (*own.get(type(row), ()), *COLUMNS.get(type(row), ())):
        words = f"{MARK}.{column}.{row.pk}@example.org"[:40]
        setattr(row, column, {"words": words} if column == "spec" else words)
    row.save()


if __name__ == "__main__":
    import django

    django.setup()  # before the models can be imported, in this process of its own

    from datetime import timedelta
    from typing import Any

    from django.db.models import Model
    from django.utils import timezone

    from tests.trips.full_trip import fill
    from tests.trips.joined import make_joinable
    from tests.trips.making import make_user
    from trips.models import Car, Enrolment, OwnGear, Person
    from trips.services.letters import queue
    from trips.services.personal_data import COLUMNS, ROWS
    from trips.services.trip_instructors import lead

    _fill()
