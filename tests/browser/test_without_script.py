"""Without script every page is there, and every control works by its button."""

from __future__ import annotations

import pytest

from tests.browser.asking import measure
from tests.browser.pages import LIKE_OTHERS, PAGES
from tests.browser.seeing import Visit

NEEDS_NO_FORM = [name for name in PAGES if name not in LIKE_OTHERS and name != "site-form"]


@pytest.mark.parametrize("name", NEEDS_NO_FORM)
def test_a_page_is_whole_without_script(name: str, visit: Visit) -> None:
    page = visit(name, script=False)
    assert page.locator("h1").count() == 1
    assert page.locator("main").inner_text().strip()
    dead = page.locator("main button:not(form button):visible").all_inner_texts()
    assert dead == []


def test_the_look_is_chosen_without_script(visit: Visit) -> None:
    page = visit("home", script=False, look=None)
    page.get_by_role("button", name="evening").click()
    assert page.locator("html").get_attribute("data-look") == "evening"
    assert measure(page, "sideways") == []
    page.context.clear_cookies(name="look")


def test_the_season_is_ranked_again_by_its_button(visit: Visit) -> None:
    page = visit("season", script=False)
    before = page.locator("main").inner_text()
    page.locator("main select[name=run]").select_option("2")
    page.locator("main form:has(select[name=run]) button").first.click()
    assert "run=2" in page.url
    assert page.locator("main").inner_text() != before
