"""The season's controls in a browser with script: ranked in place, kept in the address."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.asking import axe
from tests.browser.seeing import Visit

MARK = "window.sameDocument = true"
SAME = "window.sameDocument === true"


def answer(page: Page) -> str:
    return page.locator("#answer").inner_text()


def test_a_control_ranks_again_in_place_and_changes_the_address(visit: Visit) -> None:
    page = visit("season")
    page.evaluate(MARK)
    before = answer(page)
    page.get_by_label("Nights in a run").select_option("2")
    expect(page).to_have_url(re.compile(r"[?&]run=2\b"))
    expect(page.locator("#answer h2").first).to_contain_text("2 nights")
    assert answer(page) != before
    assert page.evaluate(SAME), "the page was loaded anew"
    assert axe(page, colours_only=True) == []


def test_what_was_ranked_again_is_told_to_who_does_not_see(visit: Visit) -> None:
    page = visit("season")
    page.get_by_label("Nights in a run").select_option("4")
    expect(page.locator("#told")).to_contain_text("Ranked again")


def test_the_focus_stays_on_the_control(visit: Visit) -> None:
    page = visit("season")
    control = page.get_by_label("Nights in a run")
    control.focus()
    control.select_option("2")
    expect(page).to_have_url(re.compile(r"[?&]run=2\b"))
    expect(control).to_be_focused()


def test_back_returns_to_the_ranking_before(visit: Visit) -> None:
    page = visit("season")
    before = answer(page)
    page.get_by_label("Nights in a run").select_option("2")
    expect(page.locator("#answer h2").first).to_contain_text("2 nights")
    page.go_back()
    expect(page).not_to_have_url(re.compile(r"run=2"))
    expect(page.locator("#answer h2").first).to_contain_text("3 nights")
    assert answer(page) == before


def test_the_address_alone_gives_the_same_ranking(visit: Visit) -> None:
    page = visit("season")
    page.get_by_label("Nights in a run").select_option("5")
    expect(page.locator("#answer h2").first).to_contain_text("5 nights")
    ranked = answer(page)
    page.goto(page.url)
    assert answer(page) == ranked
    expect(page.get_by_label("Nights in a run")).to_have_value("5")


def test_the_controls_work_by_keyboard_alone(visit: Visit) -> None:
    page = visit("season")
    page.get_by_label("Nights in a run").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator("#answer h2").first).to_contain_text("4 nights")


@pytest.mark.parametrize(
    "nonsense", ["run=0", "run=lots", "days=9&asked=1", "until=noon", "site=x"]
)
def test_nonsense_in_the_address_is_named_on_a_whole_page(nonsense: str, visit: Visit) -> None:
    page = visit("season")
    page.goto(f"{page.url.split('?')[0]}?{nonsense}")
    expect(page.get_by_role("alert").or_(page.locator(".errorlist")).first).to_be_visible()
    expect(page.locator("h1")).to_be_visible()
