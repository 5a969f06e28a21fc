"""A job's page keeps up by itself, and is found again after leaving."""

from __future__ import annotations

from django.urls import reverse
from playwright.sync_api import expect

from tests.browser.seeing import LONGER_THAN_A_LOOK_MS, Visit
from tests.browser.serving import Served


def test_a_jobs_page_tells_by_itself_that_the_work_is_done(visit: Visit, served: Served) -> None:
    page = visit("job-list")
    page.goto(reverse("job_detail", args=[served.ask()]))
    page.evaluate("window.sameDocument = true")
    expect(page.locator("main")).to_contain_text("Waiting")
    served.work()
    expect(page.locator("main")).to_contain_text("Done", timeout=LONGER_THAN_A_LOOK_MS)
    expect(page.locator("#job-over")).to_contain_text("done")
    assert page.evaluate("window.sameDocument === true"), "the page was loaded anew"
    page.locator("main .button.main").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Autumn")


def test_a_job_that_runs_is_found_again_from_the_first_page(visit: Visit) -> None:
    page = visit("home")
    page.locator("main a[href*='/jobs/']").first.click()
    expect(page.locator("main")).to_contain_text("nights")


def test_a_failed_job_says_why_and_what_to_do(visit: Visit) -> None:
    page = visit("job-failed")
    expect(page.locator("main")).to_contain_text("fell silent")
    expect(page.get_by_role("button", name="Try again")).to_be_visible()
