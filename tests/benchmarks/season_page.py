"""The season page with a year of one site: queries, bytes, and server time once warm.

python -m tests.benchmarks.season_page [--tenth]
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from statistics import median

from tests.benchmarks.club import open_club
from tests.benchmarks.measuring import is_tenth, seconds

FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
NOW = datetime(2027, 1, 1, tzinfo=UTC)
MOST_QUERIES, MOST_BYTES = 12, 300_000


def main() -> None:
    requests = 3 if is_tenth(__doc__) else 30
    open_club()

    from django.db import connection  # noqa: PLC0415
    from django.test import Client  # noqa: PLC0415
    from django.test.utils import CaptureQueriesContext  # noqa: PLC0415

    from trips.models import Membership, Organisation, Season, Site, User  # noqa: PLC0415
    from trips.services import jobs, nights  # noqa: PLC0415

    club = Organisation.objects.create(name="Benchmark")
    user = User.objects.create_user("bench@example.org")
    Membership.objects.create(user=user, organisation=club, role=Membership.Role.COORDINATOR)
    site = Site.objects.create(
        organisation=club, name="Hill", latitude=40.4, longitude=-1.1, zone="Europe/Madrid"
    )
    season = Season.objects.create(
        organisation=club, name="2027", first_night=FIRST, last_night=LAST
    )
    season.sites.add(site)
    nights.run(jobs.ask(site, FIRST, LAST, by=user, now=NOW).uid, clock=lambda: NOW)
    client = Client(headers={"host": "localhost"})
    client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    address = f"/seasons/{season.pk}/"
    with CaptureQueriesContext(connection) as captured:
        page = client.get(address)
    queries = len(captured)  # counted now: the next request empties the log
    taken = [seconds(lambda: client.get(address)) * 1e3 for _ in range(requests)]
    print(
        f"season page: {queries} queries, {len(page.content) / 1e3:.0f} kB, {median(taken):.0f} ms"
    )
    assert page.status_code == 200
    assert queries <= MOST_QUERIES
    assert len(page.content) <= MOST_BYTES


if __name__ == "__main__":
    main()
