"""A published brief and many with a place, in a database of its own, for tests that kill or press.

Run as a module against the database that the environment names: `python -m tests.trips.brief_crowd
mail 200` publishes to 200 people; `… press 8` lets so many publish at the same instant, and prints
how many versions came of it; `… plan 4` lets so many make the same plans at the same instant, and
prints how often the night was computed and how many plans came of it; `… gather 200` publishes to
so many with gear and plans, and prints where each of them reads.
"""

from __future__ import annotations

import json
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from unittest.mock import patch

READERS = 6


def _mail(people: int) -> None:
    trip = _trip(people)
    for number in range(people):
        placed(trip, f"N{number}")
    Letter.objects.all().delete()
    publish_now(trip, is_mailed=True)


def _gather(people: int) -> None:
    trip = _trip(people)
    readers = [placed(trip, f"N{number}") for number in range(people)]
    for one in readers:
        bring(one, "camera", **CAMERA)
        bring(one, "lens", focal_mm=24.0, widest_f_number=1.8)
    publish_now(trip)
    while make_plans():
        pass
    print(json.dumps([reverse("brief_read", args=[token_of(one), EVENING]) for one in readers]))


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


def _plan(workers: int) -> None:
    trip = _trip(READERS)
    for number in range(READERS):
        placed(trip, f"N{number}")
    publish_now(trip)
    ready = threading.Barrier(workers)

    def one(_worker: int) -> int:
        with closing(connection):
            connection.ensure_connection()
            ready.wait(60)
            return make_plans()

    counting = patch.object(plans, "draft_of", wraps=draft_of)
    with counting as computed, ThreadPoolExecutor(workers) as threads:
        made = sum(threads.map(one, range(workers)))
    print(computed.call_count, made, PersonalPlan.objects.count())


def _trip(people: int) -> Trip:
    call_command("migrate", verbosity=0)
    return make_briefed(capacity=people)


if __name__ == "__main__":
    import django

    django.setup()  # before the models can be imported, in this process of its own

    from django.core.management import call_command
    from django.db import connection
    from django.urls import reverse

    from tests.trips.briefed import CAMERA, bring, make_briefed, make_plans, publish_now, the_night
    from tests.trips.joined import EVENING, placed
    from trips.models import Brief, Letter, PersonalPlan, Trip
    from trips.services.briefs import plans
    from trips.services.briefs.drafts import draft_of
    from trips.services.links import token_of
    from trips.services.refusals import RefusedError

    deeds = {"mail": _mail, "press": _press, "plan": _plan, "gather": _gather}
    deeds[sys.argv[1]](int(sys.argv[2]))
