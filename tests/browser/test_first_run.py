"""From an empty account to a computed season, by following the one main button of each page."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.browser.pictures import Album
from tests.browser.seeing import LONGER_THAN_A_LOOK_MS, Eyes, Visit
from tests.browser.serving import Served

TYPED = {"name": "First Hill", "latitude": "40.4", "longitude": "-1.1", "elevation_m": "1600"}
MOST_PAGES, MOST_TYPED = 4, 4
MAIN = "main .main:visible"


def test_an_empty_account_comes_to_a_season_in_few_steps(
    visit: Visit, served: Served, album: Album
) -> None:
    page = visit.alone("home", Eyes(who="beginner"))
    typed = pages = 0
    while "/jobs/" not in page.url and not _is_season(page):
        assert pages < MOST_PAGES, f"after {pages} pages still at {page.url}"
        pages += 1
        album.keep(page, f"first-run-{pages}")
        typed += _type_what_is_required(page)
        with page.expect_navigation():
            page.locator(MAIN).first.click()
    served.work()
    _come_to_the_season(page)
    album.keep(page, "first-run-season")
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(page.locator("main")).to_contain_text("usable")
    print(f"first run: {pages} pages, {typed} fields typed")
    assert typed <= MOST_TYPED


def _is_season(page: Page) -> bool:
    return re.search(r"/seasons/\d+/", page.url) is not None


def _type_what_is_required(page: Page) -> int:
    """Fill in what is required and empty; give the number of fields."""
    typed = 0
    for name, value in TYPED.items():
        box = page.locator(f"main input[name={name}]")
        if box.count() and not box.input_value():
            box.fill(value)
            typed += 1
    return typed


def _come_to_the_season(page: Page) -> None:
    """When the work is done a season's page loads itself anew; a job's leads on by a button."""
    if _is_season(page):
        expect(page.locator("#work progress")).to_have_count(0, timeout=LONGER_THAN_A_LOOK_MS)
    else:
        page.reload()
        with page.expect_navigation():
            page.locator("main a[href*='/seasons/']").first.click()
