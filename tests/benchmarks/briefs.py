"""Briefs: drafting one, publishing to 200 people with mail pictures, opening one.

python -m tests.benchmarks.briefs [--tenth]

Drafting at most 60 ms warm and 12 queries; 200 people have their plan and their mail within 60 s;
opening, with the look-up of the link, at most 4 ms and 3 queries; a sheet of paper at most 1 s.
Times are the processor's.
"""

from __future__ import annotations

from typing import Any

from tests.benchmarks.club import open_club
from tests.benchmarks.measuring import best_ms, hold, is_tenth

PEOPLE = 200
MOST_DRAFT_MS, MOST_DRAFT_QUERIES = 60.0, 12
MOST_MAIL_SECONDS = 60.0
MOST_OPEN_MS, MOST_OPEN_QUERIES = 4.0, 3
MOST_PAPER_MS = 1000.0


def main() -> None:
    is_small = is_tenth(__doc__)
    people, times = (PEOPLE // 10, 5) if is_small else (PEOPLE, 20)
    open_club()

    from django.conf import settings  # noqa: PLC0415

    settings.EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
    settings.EMAIL_FILE_PATH = settings.DATA_FOLDER / "mail"
    trip, readers = _trip(people)
    _draft(trip, times)
    _mail(trip, people)
    _open(readers[0], times * 10)
    _paper(readers[0], times)


def _trip(people: int) -> tuple[Any, list[Any]]:
    from tests.trips.briefed import CAMERA as camera  # noqa: N811, PLC0415
    from tests.trips.briefed import bring, make_briefed  # noqa: PLC0415
    from tests.trips.joined import placed  # noqa: PLC0415
    from trips.models import Letter  # noqa: PLC0415

    trip = make_briefed(capacity=people)
    assert trip.target_list is not None
    for key, name, light in (
        ("milky-way:arch", "Arch", "moonless"), ("deep-sky:NGC7000", "Nebula", "dark"),
        ("planet:jupiter", "Jupiter", "any"),
    ):  # fmt: skip
        trip.target_list.entries.create(target=key, name=name, weight=0.5, light=light)
    readers = [placed(trip, f"N{number}") for number in range(people)]
    for one in readers:
        bring(one, "camera", **camera)
        bring(one, "lens", focal_mm=24.0, widest_f_number=1.8)
    Letter.objects.all().delete()
    return trip, readers


def _draft(trip: Any, times: int) -> None:
    from tests.trips.briefed import the_night  # noqa: PLC0415
    from tests.trips.making import NOON  # noqa: PLC0415
    from trips.services.briefs.drafts import draft_of, facts_of  # noqa: PLC0415

    night = the_night(trip)

    def draft() -> None:
        facts_of(draft_of(night, now=NOON))

    draft()
    queries = _queries(draft)
    spent = best_ms(draft, times)
    print(f"drafting: {spent:.0f} ms, {queries} queries")
    assert queries <= MOST_DRAFT_QUERIES
    hold(spent, MOST_DRAFT_MS)


def _mail(trip: Any, people: int) -> None:
    from tests.trips.briefed import make_plans, publish_now  # noqa: PLC0415
    from tests.trips.joined import post  # noqa: PLC0415
    from trips.models import PersonalPlan  # noqa: PLC0415

    def mail() -> None:
        publish_now(trip, is_mailed=True)
        while make_plans():
            pass
        while post():
            pass

    spent = best_ms(mail, 1) / 1000
    assert PersonalPlan.objects.count() == people
    print(f"{people} people have their plan and their mail: {spent:.1f} s")
    hold(spent, MOST_MAIL_SECONDS, "s")


def _open(reader: Any, times: int) -> None:
    from tests.trips.joined import EVENING  # noqa: PLC0415
    from tests.trips.making import NOON  # noqa: PLC0415
    from trips.models import Enrolment  # noqa: PLC0415
    from trips.services import links  # noqa: PLC0415
    from trips.services.briefs.reading import read  # noqa: PLC0415

    token = links.token_of(reader)

    def opened() -> None:
        rows = Enrolment.objects.select_related("trip", "person")
        found = links.found(rows, token, at=NOON)
        assert found is not None
        assert read(found, EVENING) is not None

    queries = _queries(opened)
    spent = best_ms(opened, times)
    print(f"opening: {spent:.1f} ms, {queries} queries")
    assert queries <= MOST_OPEN_QUERIES
    hold(spent, MOST_OPEN_MS)


def _paper(reader: Any, times: int) -> None:
    from tests.trips.joined import EVENING  # noqa: PLC0415
    from trips.services.briefs.as_pdf import as_pdf  # noqa: PLC0415
    from trips.services.briefs.reading import read  # noqa: PLC0415

    reading = read(reader, EVENING)
    assert reading is not None
    spent = best_ms(lambda: as_pdf(reading), times)
    print(f"a sheet of paper: {spent:.0f} ms")
    hold(spent, MOST_PAPER_MS)


def _queries(deed: Any) -> int:
    from django.db import connection  # noqa: PLC0415
    from django.test.utils import CaptureQueriesContext  # noqa: PLC0415

    with CaptureQueriesContext(connection) as captured:
        deed()
    return len(captured)


if __name__ == "__main__":
    main()
