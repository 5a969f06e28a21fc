"""A site's year from the job's commit to stored rows, with a warm worker: where the time goes.

python -m tests.benchmarks.site_year [--tenth]
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from functools import partial
from statistics import median

from tests.benchmarks.club import open_club
from tests.benchmarks.measuring import is_tenth, seconds

FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
NOW = datetime(2027, 1, 1, tzinfo=UTC)
NIGHTS = 365


def timed(deed: Callable[[], object]) -> float:
    return seconds(deed) * 1e3


def main() -> None:
    count = 3 if is_tenth(__doc__) else 30
    open_club()

    from tests.nights import nights_of  # noqa: PLC0415
    from trips.almanac.nights import compute_nights  # noqa: PLC0415
    from trips.almanac.places import place_of  # noqa: PLC0415
    from trips.models import Job, Night, Organisation, Site  # noqa: PLC0415
    from trips.services import nights, working  # noqa: PLC0415

    club = Organisation.objects.create(name="Benchmark")
    sites = [
        Site.objects.create(
            organisation=club, name=f"Site {n}", latitude=40 + n / 10, longitude=-1, zone="UTC"
        )
        for n in range(count)
    ]
    nights_of(place_of(sites[0]), FIRST, LAST)  # warm
    asked = [nights.ask(site, FIRST, LAST, by=None, now=NOW) for site in sites]
    whole = [timed(partial(working.run, job.uid, clock=lambda: NOW)) for job in asked]
    sky = [timed(partial(nights_of, place_of(site), FIRST, LAST)) for site in sites]
    rows = [timed(partial(compute_nights, site, FIRST, LAST)) for site in sites]
    print(f"{count} site-years, median milliseconds from claim to finished job")
    print(f"whole job                   {median(whole):9.1f}")
    print(f"  computing the nights      {median(sky):9.1f}")
    print(f"  turning them into rows    {median(rows) - median(sky):9.1f}")
    print(f"  claiming and storing      {median(whole) - median(rows):9.1f}")
    assert Job.objects.filter(state=Job.State.DONE).count() == count
    assert Night.objects.count() == count * NIGHTS


if __name__ == "__main__":
    main()
