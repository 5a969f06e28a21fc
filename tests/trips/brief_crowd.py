"""A published brief and many with a place, in a database of its own, for tests that kill or press.

Run as a module against the database that the environment names: `python -m tests.trips.brief_crowd
mail 200` publishes to 200 people; `… press 8` lets so many publish at the same instant, and prints
how many versions came of it.
"""

from __future__ import annotations

import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing


def _mail(people: int) -> None:
    trip = _trip(people)
    for number in range(people):
        placed(trip, f"N{number}")
    Letter.objects.all().delete()
    publish_now(trip, is_mailed=True)


def _press(count: int) -> None:
    trip = _trip(1)
    night = the_night(trip)
    ready = threading.Barrier(count)

    def one(_presser: int) -> int:
        with closing(connection):
            connection.ensure_connection()
            ready.wait(60)
            try:
                return int(publish_now(trip, night=night, expects=1).number)
            except RefusedError:
                return 0

    with ThreadPoolExecutor(count) as threads:
        numbers = list(threads.map(one, range(count)))
    print(*sorted({*numbers}), Brief.objects.count())


def _trip(people: int) -> Trip:
    call_command("migrate", verbosity=0)
    return make_briefed(capacity=people)


if __name__ == "__main__":
    import django

    django.setup()  # before the models can be imported, in this process of its own

    from django.core.management import call_command
    from django.db import connection

    from tests.trips.briefed import make_briefed, publish_now, the_night
    from tests.trips.joined import placed
    from trips.models import Brief, Letter, Trip
    from trips.services.refusals import RefusedError

    {"mail": _mail, "press": _press}[sys.argv[1]](int(sys.argv[2]))
