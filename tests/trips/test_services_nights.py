"""The work of a job: real nights, stored a year at once, or not at all."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from tests.trips.making import FIRST, LAST, NOON, dates_of, make_site
from trips.almanac.nights import compute_nights
from trips.models import Job, Night, Site
from trips.services import jobs, nights, working

pytestmark = pytest.mark.django_db

NEW_YEAR = date(2027, 12, 27), date(2028, 1, 5)


def clock() -> datetime:
    return NOON


def run(job: Job) -> Job:
    working.run(job.uid, clock=clock)
    job.refresh_from_db()
    return job


def ask(site: Site, first: date = FIRST, last: date = LAST) -> Job:
    return nights.ask(site, first, last, by=None, now=NOON)


def test_a_job_stores_every_night_of_the_site_once() -> None:
    job = run(ask(make_site()))
    assert (job.state, job.done, job.total) == ("done", 10, 10)
    assert dates_of(job.site) == [date(2027, 3, day) for day in range(1, 11)]


def test_what_is_stored_is_what_the_almanac_computes() -> None:
    job = run(ask(make_site()))
    computed = compute_nights(job.site, FIRST, LAST)
    stored = list(Night.objects.filter(site=job.site).order_by("date"))
    assert [night.sunset for night in stored] == [night.sunset for night in computed]
    assert [night.moonless_18 for night in stored] == [night.moonless_18 for night in computed]


def test_running_twice_changes_nothing() -> None:
    site = make_site()
    run(ask(site))
    before = list(Night.objects.order_by("date").values())
    run(ask(site))
    assert list(Night.objects.order_by("date").values()) == before


def test_a_job_over_the_turn_of_a_year_reports_each_year(monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[int] = []
    renew = jobs.renew

    def listen(claim: jobs.Claim, *, done: int, now: datetime) -> None:
        told.append(done)
        renew(claim, done=done, now=now)

    monkeypatch.setattr(jobs, "renew", listen)
    run(ask(make_site(), *NEW_YEAR))
    assert told == [5, 10]


def test_a_stop_is_honoured_between_two_years(monkeypatch: pytest.MonkeyPatch) -> None:
    job = ask(make_site(), *NEW_YEAR)

    def compute_and_press_stop(site: Site, first: date, last: date) -> list[Night]:
        jobs.request_stop(Job.objects.get(pk=job.pk), now=NOON)
        return compute_nights(site, first, last)

    monkeypatch.setattr(nights, "compute_nights", compute_and_press_stop)
    assert run(job).state == Job.State.STOPPED
    assert dates_of(job.site)[-1] == date(2027, 12, 31)


def test_nothing_is_stored_for_a_site_edited_during_the_work(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    job = ask(make_site())

    def compute_while_somebody_edits(site: Site, first: date, last: date) -> list[Night]:
        Site.objects.filter(pk=site.pk).update(latitude=41.0)
        return compute_nights(site, first, last)

    monkeypatch.setattr(nights, "compute_nights", compute_while_somebody_edits)
    assert run(job).state == Job.State.STOPPED
    assert "edited" in job.error
    assert dates_of(job.site) == []


def test_nothing_is_stored_under_a_lost_claim(monkeypatch: pytest.MonkeyPatch) -> None:
    job = ask(make_site())

    def compute_while_another_takes_over(site: Site, first: date, last: date) -> list[Night]:
        Job.objects.update(lease_owner="00000000-0000-0000-0000-000000000001")
        return compute_nights(site, first, last)

    monkeypatch.setattr(nights, "compute_nights", compute_while_another_takes_over)
    assert run(job).state == Job.State.RUNNING
    assert dates_of(job.site) == []


def test_an_error_of_the_input_is_worded_and_not_tried_again() -> None:
    site = make_site()
    Site.objects.filter(pk=site.pk).update(latitude=123.0)
    site.refresh_from_db()
    job = run(ask(site))
    assert (job.state, job.attempts) == ("failed", 1)
    assert "123" in job.error


def test_an_unforeseen_error_is_kept_and_tried_again(monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(site: Site, first: date, last: date) -> list[Night]:
        raise MemoryError("no room")

    job = ask(make_site())
    monkeypatch.setattr(nights, "compute_nights", break_down)
    assert run(job).state == Job.State.QUEUED
    assert job.error == (
        "The computation broke off (MemoryError: no room). "
        f"The worker's log says more: job {job.uid}."
    )
    monkeypatch.undo()
    assert run(job).state == Job.State.DONE
    assert job.error == ""


def test_a_later_attempt_does_not_compute_a_stored_year_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    site = make_site()
    run(ask(site, NEW_YEAR[0], date(2027, 12, 31)))
    asked: list[date] = []

    def compute_and_note(site: Site, first: date, last: date) -> list[Night]:
        asked.append(first)
        return compute_nights(site, first, last)

    monkeypatch.setattr(nights, "compute_nights", compute_and_note)
    run(ask(site, *NEW_YEAR))
    assert asked == [date(2028, 1, 1)]
    assert len(dates_of(site)) == 10


def test_a_season_is_cut_at_the_turns_of_years() -> None:
    assert list(nights.years(date(2027, 11, 1), date(2029, 2, 1))) == [
        (date(2027, 11, 1), date(2027, 12, 31)),
        (date(2028, 1, 1), date(2028, 12, 31)),
        (date(2029, 1, 1), date(2029, 2, 1)),
    ]


def test_a_date_that_the_zone_skipped_has_no_night() -> None:
    site = make_site(latitude=-13.8, longitude=-171.8, zone="Pacific/Apia")
    job = run(ask(site, date(2011, 12, 28), date(2012, 1, 1)))
    assert job.state == Job.State.DONE
    assert [day.day for day in dates_of(site)] == [28, 29, 31, 1]


@pytest.mark.django_db
def test_a_season_over_a_date_that_its_zone_skipped_is_fresh_once_computed() -> None:
    site = make_site(latitude=-13.8, longitude=-171.8, zone="Pacific/Apia")
    first, last = date(2011, 12, 29), date(2011, 12, 31)
    job = nights.ask(site, first, last, by=None, now=NOON)
    working.run(job.uid, clock=lambda: NOON)
    assert dates_of(site) == [first, last]
    assert nights.are_fresh(site, first, last)


def test_the_planets_tables_are_made_before_a_page_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[date, date]] = []
    monkeypatch.setattr(nights, "tabulate", lambda first, last: asked.append((first, last)))
    run(ask(make_site()))
    assert asked == [(FIRST, LAST)]
