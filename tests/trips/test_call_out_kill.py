"""A night that nobody closes, its phone off, and a worker that is killed or kept by other things.

Real workers: the letters go, each once.
"""

from __future__ import annotations

import re
import sqlite3
import sys
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from tests.trips.mail_server import mail_server
from tests.trips.stage import Stage, kill, wait_until

pytestmark = pytest.mark.kill

LEADER, CONTACT = "leader@example.org", "contact@example.org"


def test_after_a_kill_between_the_letters_each_goes_once(tmp_path: Path) -> None:
    stage = Stage(tmp_path, {"FIELDNIGHTS_BROKER_URL": "filesystem://"})
    stage.run("manage.py", "migrate", "--verbosity", "0")
    stage.run("-m", "tests.trips.test_call_out_kill")
    with stage.worker("threads") as worker:
        wait_until(lambda: bool(stage.letters()), stage)
        kill(worker)
    assert stage.letters() == Counter([LEADER])

    # The contact's minutes pass while no worker runs.
    change(stage, "UPDATE trips_letter SET due_at = '2020-01-01 00:00:00' WHERE state = 'queued'")
    with stage.worker("threads"):
        wait_until(lambda: CONTACT in stage.letters(), stage)
        wait_until(sweeps_again(stage), stage)
    assert stage.letters() == Counter([LEADER, CONTACT])


def test_a_call_out_passes_by_all_that_a_hanging_mail_server_keeps(tmp_path: Path) -> None:
    """Both processes of the worker wait for answers that never come, for two minutes in all."""
    with mail_server() as server:
        server.silent = ("slow-",)
        stage = Stage(tmp_path, {"FIELDNIGHTS_SMTP_URL": f"smtp://127.0.0.1:{server.port}"})
        stage.run("manage.py", "migrate", "--verbosity", "0")
        slow = [f"slow-{n}@meadow.example" for n in range(12)]
        stage.run("-m", "tests.trips.test_call_out_kill", *slow)
        change(stage, "UPDATE trips_tripnight SET call_out_at = '2100-01-01 00:00:00'")
        with stage.worker("prefork"):
            wait_until(lambda: len(server.hanging) > 1, stage)
            change(stage, "UPDATE trips_tripnight SET call_out_at = '2020-01-01 00:00:00'")
            wait_until(lambda: bool(server.taken), stage, seconds=60)
        assert server.readers() == [LEADER]


def change(stage: Stage, one_row: str) -> None:
    with closing(sqlite3.connect(stage.folder / "fieldnights.sqlite3", timeout=20)) as database:
        assert database.execute(one_row).rowcount == 1
        database.commit()


def sweeps_again(stage: Stage) -> Callable[[], bool]:
    """Tell when a sweep has run to its end once more after now."""
    done = re.compile(r"looked for overdue nights")
    before = len(done.findall(stage.log()))
    return lambda: len(done.findall(stage.log())) > before


def _fill(mails: list[str]) -> None:
    """A trip that runs, whose night was to be over two hours ago; those who asked for a place."""
    now = timezone.now()
    organisation = Organisation.objects.create(name="Club")
    leader = User.objects.create_user(LEADER)
    Membership.objects.create(user=leader, organisation=organisation, role="instructor")
    site = Site.objects.create(
        organisation=organisation, name="Hill", latitude=40.4, longitude=-1.0, zone="Europe/Madrid"
    )
    spot = Spot.objects.create(site=site, name="Wall", latitude=40.4, longitude=-1.0)
    trip = make_trip(
        organisation, name="Out", evenings=[now.date()], spot=spot, by=leader, now=now,
        contact_name="At home", contact_mail=CONTACT, meeting_point="Chapel",
    )  # fmt: skip
    Trip.objects.update(status=Trip.Status.OPEN)
    trip.refresh_from_db()
    for mail in mails:
        joining.ask(trip, name="Ana", mail=mail, now=now)
    Trip.objects.update(status=Trip.Status.RUNNING)
    trip.nights.update(
        meeting_at=now - timedelta(hours=9),
        ends_at=now - timedelta(hours=4),
        call_out_at=now - timedelta(hours=2),
    )


if __name__ == "__main__":
    import django

    django.setup()  # before the models can be imported, in this process of its own

    from django.utils import timezone

    from trips.models import Membership, Organisation, Site, Spot, Trip, User
    from trips.services import joining
    from trips.services.trips import make_trip

    _fill(sys.argv[1:])
