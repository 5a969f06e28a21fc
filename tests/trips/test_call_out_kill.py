"""A night that nobody closes, its phone off, and a worker that is killed or kept by other things.

Real workers: the letters go, each once.
"""

from __future__ import annotations

import re
import sqlite3
import sys
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from tests.trips.mail_server import mail_server
from tests.trips.stage import Stage, kill, wait_until

pytestmark = pytest.mark.kill

LEADER, CONTACT = "leader@example.org", "contact@example.org"


def test_call_outs_pass_by_a_mail_server_that_hangs_and_outlive_a_kill_each_once(
    tmp_path: Path,
) -> None:
    """Both processes of the worker wait for answers that never come, for two minutes in all."""
    with mail_server() as server:
        server.silent = ("slow-",)
        stage = Stage(tmp_path, {
            "FIELDNIGHTS_BROKER_URL": "filesystem://",
            "FIELDNIGHTS_SMTP_URL": f"smtp://127.0.0.1:{server.port}",
        })  # fmt: skip
        slow = [f"slow-{n}@meadow.example" for n in range(12)]
        stage.run("-m", "tests.trips.test_call_out_kill", *slow)
        with stage.worker("prefork") as worker:
            wait_until(lambda: len(server.hanging) > 1, stage)
            change(stage, "UPDATE trips_tripnight SET call_out_at = '2020-01-01 00:00:00'")
            wait_until(lambda: bool(server.taken), stage, seconds=60)
            kill(worker)
        assert server.readers() == [LEADER]

        # The contact's minutes pass while no worker runs.
        change(stage, "UPDATE trips_letter SET due_at = '2020-01-01' WHERE kind LIKE '%contact'")
        with stage.worker("threads"):
            wait_until(lambda: CONTACT in server.readers(), stage)
            wait_until(sweeps_again(stage), stage)
        assert server.readers() == [LEADER, CONTACT]


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
    """A trip that runs, in whose night people are out; those who asked for a place."""
    now = timezone.now()
    tomorrow = now.date() + timedelta(days=1)
    organisation = Organisation.objects.create(name="Club")
    leader = User.objects.create_user(LEADER)
    Membership.objects.create(user=leader, organisation=organisation, role="instructor")
    site = Site.objects.create(
        organisation=organisation, name="Hill", latitude=40.4, longitude=-1.0, zone="Europe/Madrid"
    )
    spot = Spot.objects.create(site=site, name="Wall", latitude=40.4, longitude=-1.0)
    trip = make_trip(
        organisation, name="Out", evenings=[tomorrow], spot=spot, by=leader, now=now,
        contact_name="At home", contact_mail=CONTACT, meeting_point="Chapel",
    )  # fmt: skip
    Trip.objects.update(status=Trip.Status.OPEN)
    trip.refresh_from_db()
    for mail in mails:
        joining.ask(trip, name="Ana", mail=mail, now=now)
    Trip.objects.update(status=Trip.Status.RUNNING)


if __name__ == "__main__":
    import django

    django.setup()  # before the models can be imported, in this process of its own

    from django.utils import timezone

    from trips.models import Membership, Organisation, Site, Spot, Trip, User
    from trips.services import joining
    from trips.services.trips import make_trip

    _fill(sys.argv[1:])
