"""A crowd that presses at the same instant, in processes and threads of its own.

Run as a module against the database that the environment names:
`python -m tests.trips.crowd gather 50` (which prints the addresses of their links), then in several
processes at once `… press 0 25`, then `… tell`.
"""

from __future__ import annotations

import json
import os
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, suppress

from tests.trips.stage import Stage

CROWD, PROCESSES, BORROWERS = 50, 2, 5
TWIN = "Twin"
KIT = "The last tracker"


def press_all(stage: Stage) -> dict[str, list[object]]:
    """Let a crowd confirm for the one place of a trip, and as many lend one tracker; give what
    came of it."""
    stage.run("-m", "tests.trips.crowd", "gather", str(CROWD))
    share = CROWD // PROCESSES
    with ThreadPoolExecutor(PROCESSES) as processes:
        pressing = [
            processes.submit(
                stage.run, "-m", "tests.trips.crowd", "press", str(n * share), str((n + 1) * share)
            )
            for n in range(PROCESSES)
        ]
        for each in pressing:
            each.result()
    told: dict[str, list[object]] = json.loads(stage.run("-m", "tests.trips.crowd", "tell"))
    return told


def _gather(count: int) -> None:
    call_command("migrate", verbosity=0)
    trip = make_joinable(capacity=1)
    own = [links.token_of(asked(trip, f"N{n}")) for n in range(count)]
    camp = make_joinable(name=KIT, site=Site.objects.get(), capacity=BORROWERS)
    for n in range(BORROWERS):
        placed(camp, f"B{n}")
    spec = written(Tracker(name=KIT, payload_kg=5))
    LoanItem.objects.create(organisation=trip.organisation, kind="tracker", name=KIT, spec=spec)
    make_user()
    print(json.dumps({"invitation": links.invitation_of(trip), "own": own}))


def _press(first: int, last: int) -> None:
    """Confirm, and ask once more as somebody who presses on many phones; then lend."""
    trip, camp = Trip.objects.exclude(name=KIT).get(), Trip.objects.get(name=KIT)
    rows = list(trip.enrolments.exclude(person__name=TWIN).order_by("pk")[first:last])
    borrowers, item, user = list(camp.enrolments.all()), LoanItem.objects.get(), User.objects.get()
    ready = threading.Barrier(len(rows), _wait_for_others)

    def one(row: Enrolment) -> None:
        with closing(connection):
            ready.wait(60)
            joining.confirm(row, now=NOON)
            joining.ask(trip, name=TWIN, mail="twin@meadow.example", now=NOON)
            ready.wait(60)
            with suppress(RefusedError):
                lend_all(item, borrowers[row.pk % BORROWERS], by=user, now=NOON)

    with ThreadPoolExecutor(len(rows)) as threads:
        for pressed in [threads.submit(one, row) for row in rows]:
            pressed.result()


def _wait_for_others() -> None:
    """Let no process press before each of them could."""
    (settings.DATA_FOLDER / f"ready-{os.getpid()}").touch()
    while len(list(settings.DATA_FOLDER.glob("ready-*"))) < PROCESSES:
        time.sleep(0.01)


def _tell() -> None:
    rows = Enrolment.objects.exclude(person__name=TWIN).exclude(trip__name=KIT)
    lent = Loan.objects.filter(is_granted=True)
    told = {
        "places": list(rows.filter(place__isnull=False).values_list("place", flat=True)),
        "queue": sorted(rows.filter(state="waiting").values_list("queue_number", flat=True)),
        "twins": list(Enrolment.objects.filter(person__name=TWIN).values_list("state", flat=True)),
        "status": list(Trip.objects.exclude(name=KIT).values_list("status", flat=True)),
        "borrowers": list(lent.order_by().values_list("enrolment", flat=True).distinct()),
        "evenings": sorted(f"{one.evening}" for one in lent),
        "promises": list(
            TripEvent.objects.filter(what="loan_granted").values_list("what", flat=True)
        ),
    }
    print(json.dumps(told))


if __name__ == "__main__":
    import django

    django.setup()  # before the models can be imported, in this process of its own

    from django.conf import settings
    from django.core.management import call_command
    from django.db import connection

    from tests.trips.joined import asked, make_joinable, placed
    from tests.trips.making import NOON, make_user
    from trips.models import Enrolment, Loan, LoanItem, Site, Trip, TripEvent, User
    from trips.planning.gear import Tracker, written
    from trips.services import joining, links
    from trips.services.loans import lend_all
    from trips.services.refusals import RefusedError

    deed, numbers = sys.argv[1], [int(word) for word in sys.argv[2:]]
    if deed == "gather":
        _gather(*numbers)
    elif deed == "press":
        _press(*numbers)
    else:
        _tell()
