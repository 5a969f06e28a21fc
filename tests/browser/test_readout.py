"""The season chart's card: the same night by arrow keys, mouse and finger, told aloud too."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.asking import axe
from tests.browser.pictures import Album, not_red
from tests.browser.seeing import Visit


def slider(page: Page) -> Locator:
    return page.get_by_role("slider", name=re.compile("arrow keys"))


def card(page: Page) -> Locator:
    return page.locator(".chart-card")


def aloud(page: Page) -> Locator:
    return page.locator("figure.chart [role=status]")


def value(page: Page) -> int:
    return int(slider(page).get_attribute("aria-valuenow") or -1)


def test_arrow_keys_walk_the_nights(visit: Visit, album: Album) -> None:
    page = visit("season")
    slider(page).focus()
    start = value(page)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    assert value(page) == start + 1
    expect(card(page)).to_be_visible()
    said = slider(page).get_attribute("aria-valuetext") or ""
    assert re.search(r"\d\sh usable|none usable", said), said
    expect(card(page).locator("a")).to_have_text(said.split(":")[0])
    album.keep(page, "season-readout-paper-desk", whole=False)
    assert axe(page, colours_only=True) == []


@pytest.mark.parametrize(
    ("key", "night"), [("Home", "1 January"), ("End", "31 December")], ids=["first", "last"]
)
def test_home_and_end_go_to_the_ends_of_the_season(key: str, night: str, visit: Visit) -> None:
    page = visit("season")
    slider(page).focus()
    page.keyboard.press(key)
    expect(card(page).locator("a")).to_contain_text(night)
    beyond = {"Home": "ArrowLeft", "End": "ArrowRight"}[key]
    page.keyboard.press(beyond)
    expect(card(page).locator("a")).to_contain_text(night)


def test_page_keys_go_by_months(visit: Visit) -> None:
    page = visit("season")
    slider(page).focus()
    page.keyboard.press("Home")
    page.keyboard.press("PageDown")
    expect(card(page).locator("a")).to_contain_text("1 February")
    page.keyboard.press("PageUp")
    expect(card(page).locator("a")).to_contain_text("1 January")


def test_the_last_of_several_nights_is_told_aloud(visit: Visit) -> None:
    page = visit("season")
    slider(page).focus()
    page.keyboard.press("Home")
    for _ in range(5):
        page.keyboard.press("ArrowRight")
    expect(aloud(page)).to_contain_text("Sunset")
    expect(aloud(page)).to_contain_text("Moon")


def test_enter_opens_the_night(visit: Visit) -> None:
    page = visit("season")
    slider(page).focus()
    page.keyboard.press("Home")
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile(r"/nights/2027-01-01/"))


def test_escape_and_leaving_put_the_card_away(visit: Visit) -> None:
    page = visit("season")
    slider(page).focus()
    expect(card(page)).to_be_visible()
    page.keyboard.press("Escape")
    expect(card(page)).to_be_hidden()
    page.keyboard.press("ArrowRight")
    expect(card(page)).to_be_visible()
    page.get_by_label("Nights in a run").focus()
    expect(card(page)).to_be_hidden()


def test_the_mouse_reads_by_hovering_and_opens_by_a_click(visit: Visit) -> None:
    page = visit("season")
    x, y = _in_the_chart(page)
    page.mouse.move(x, y)
    expect(card(page)).to_be_visible()
    night = card(page).locator("a").get_attribute("href") or "no address"
    page.mouse.click(x, y)
    expect(page).to_have_url(re.compile(re.escape(night)))


def test_the_mouse_elsewhere_reads_nothing(visit: Visit) -> None:
    page = visit("season")
    page.mouse.move(*_in_the_chart(page))
    page.mouse.move(2, 2)
    expect(card(page)).to_be_hidden()


def test_a_finger_reads_by_a_tap_and_opens_by_the_card(visit: Visit, album: Album) -> None:
    page = visit("season", size="phone", look="night")
    page.touchscreen.tap(*_in_the_chart(page))
    expect(card(page)).to_be_visible()
    box = card(page).bounding_box()
    assert box
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 390
    pixels = album.keep(page, "season-readout-night-phone", whole=False)
    assert not_red(pixels, most=24) == 0
    card(page).locator("a").tap()
    expect(page).to_have_url(re.compile(r"/nights/2027-"))


def test_the_card_follows_a_season_that_was_ranked_again(visit: Visit) -> None:
    page = visit("season")
    page.get_by_label("Nights in a run").select_option("2")
    expect(page.locator("#answer h2").first).to_contain_text("2 nights")
    slider(page).focus()
    page.keyboard.press("Home")
    expect(card(page).locator("a")).to_contain_text("1 January")


def _in_the_chart(page: Page) -> tuple[float, float]:
    """Give a place in the middle of the plot, scrolled into view."""
    page.locator(".chart-stage").scroll_into_view_if_needed()
    box = page.locator(".chart-stage").bounding_box()
    assert box
    height = page.viewport_size["height"] if page.viewport_size else 800
    bottom = min(box["y"] + box["height"], height)
    return box["x"] + box["width"] / 2, (max(box["y"], 0) + bottom) / 2
