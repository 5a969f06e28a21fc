"""Several who send the same letters at the same instant.

Run as a module against the database that the environment names: `python -m tests.trips.postmen`.
"""

from __future__ import annotations

import threading
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing

from tests.trips.stage import Stage

LETTERS, POSTMEN = 20, 4


def send_all(stage: Stage) -> Counter[str]:
    """Count by reader what was handed over."""
    stage.run("-m", "tests.trips.postmen")
    return stage.letters()


def _send() -> None:
    call_command("migrate", verbosity=0)
    trip = make_joinable()
    for number in range(LETTERS):
        asked(trip, f"N{number}")
    ready = threading.Barrier(POSTMEN)

    def one(_postman: int) -> None:
        with closing(connection):
            connection.ensure_connection()
            ready.wait(60)
            post()

    with ThreadPoolExecutor(POSTMEN) as threads:
        list(threads.map(one, range(POSTMEN)))


if __name__ == "__main__":
    import django

    django.setup()  # before the models can be imported, in this process of its own

    from django.core.management import call_command
    from django.db import connection

    from tests.trips.joined import asked, make_joinable, post

    _send()
