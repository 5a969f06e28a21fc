"""The board of a trip with 40 people on a coast: queries, bytes, and server time once warm.

python -m tests.benchmarks.trip_board [--tenth]

At most 15 queries, with gear, loans, turns, cars and ticks of each.
"""

from __future__ import annotations

import gzip
from datetime import UTC, date, datetime, time, timedelta
from statistics import median
from typing import Any

from tests.benchmarks.club import open_club
from tests.benchmarks.measuring import hold, is_tenth, seconds

PEOPLE, MOST_QUERIES, MOST_BYTES = 40, 15, 300_000
FIRST = date(2027, 7, 2)
NOW = datetime(2027, 2, 1, 12, tzinfo=UTC)
# Of a machine like the one that the figures were agreed on.
MOST_MS = 200


def main() -> None:
    requests = 3 if is_tenth(__doc__) else 20
    open_club()

    from django.db import connection  # noqa: PLC0415
    from django.test.utils import CaptureQueriesContext  # noqa: PLC0415

    client, address = _leader_and_board()
    client.get(address)  # templates are read, tables opened
    with CaptureQueriesContext(connection) as captured:
        page = client.get(address)
    queries = len(captured)  # counted now: the next request empties the log
    raw, zipped = len(page.content), len(gzip.compress(page.content, compresslevel=6))
    taken = median(seconds(lambda: client.get(address)) for _ in range(requests)) * 1e3
    print(f"{PEOPLE} people: {queries} queries, {raw / 1e3:.0f} kB, {zipped / 1e3:.0f} kB gzipped")
    print(f"{PEOPLE} people: {taken:.0f} ms")
    assert page.status_code == 200
    assert f"Person {PEOPLE}" in page.content.decode()
    assert queries <= MOST_QUERIES
    assert raw <= MOST_BYTES
    hold(taken, MOST_MS)


def _leader_and_board() -> tuple[Any, str]:
    from django.test import Client  # noqa: PLC0415
    from django.urls import reverse  # noqa: PLC0415

    from tests.trips.full_trip import fill  # noqa: PLC0415
    from trips.models import Membership, Organisation, Site, Spot, Trip, User  # noqa: PLC0415
    from trips.services.trips import make_trip  # noqa: PLC0415

    club = Organisation.objects.create(name="Benchmark")
    leader = User.objects.create_user("bench@example.org")
    Membership.objects.create(user=leader, organisation=club, role=Membership.Role.COORDINATOR)
    site = Site.objects.create(
        organisation=club, name="Quay", latitude=43.4, longitude=-4.0, zone="Europe/Madrid",
        on_coast=True,
    )  # fmt: skip
    spot = Spot.objects.create(site=site, name="Slip", latitude=43.4, longitude=-4.0, tripods=4)
    trip = make_trip(
        club, name="Three nights", evenings=[FIRST + timedelta(days=n) for n in range(3)],
        spot=spot, by=leader, now=NOW, capacity=PEOPLE, meeting_point="Chapel",
        decision_clock=time(16), decision_place="the notice board",
    )  # fmt: skip
    Trip.objects.filter(pk=trip.pk).update(status=Trip.Status.OPEN)
    fill(trip, PEOPLE, now=NOW)
    client = Client(headers={"host": "localhost"})
    client.force_login(leader, backend="django.contrib.auth.backends.ModelBackend")
    return client, reverse("trip_detail", args=[trip.pk])


if __name__ == "__main__":
    main()
