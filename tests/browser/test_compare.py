"""The comparison: sorted by its heads, two sites laid over each other, taken away as a table."""

from __future__ import annotations

import re

from playwright.sync_api import expect

from tests.browser.seeing import Visit


def test_a_head_sorts_the_sites_and_the_address_says_so(visit: Visit) -> None:
    page = visit("compare")
    page.locator("#sites thead a", has_text="Drive").first.click()
    expect(page).to_have_url(re.compile(r"\?.*drive"))
    expect(page.locator("#sites thead [aria-sort]")).to_have_count(1)
    first = page.locator("#sites tbody tr").first
    expect(first).to_contain_text("Broom Hill")  # 75 min: the nearest whose drive is known


def test_sorting_keeps_the_document_and_what_the_address_wishes(visit: Visit) -> None:
    page = visit("compare")
    page.goto(page.url + "?days=tue")
    page.evaluate("window.sameDocument = true")
    page.locator("#sites thead a", has_text="Drive").first.click()
    expect(page).to_have_url(re.compile(r"days=tue.*sort=drive"))
    expect(page.locator("#order")).to_contain_text("by drive")
    assert page.evaluate("window.sameDocument === true"), "the page was loaded anew"
    csv = page.locator("a[href*='.csv']").first.get_attribute("href")
    assert "days=tue" in str(csv)


def test_on_a_phone_drive_and_access_are_read_without_scrolling_the_table(visit: Visit) -> None:
    page = visit("compare", size="phone")
    name = page.locator("#sites tbody th").first
    for words in (re.compile("usable"), re.compile("drive"), re.compile("permit|night")):
        box = name.locator(".narrow", has_text=words).first.bounding_box()
        assert box
        assert box["x"] + box["width"] <= 390
    expect(page.get_by_text("Scroll the table sideways")).to_be_visible()


def test_on_a_desk_columns_say_it_and_nothing_is_said_twice(visit: Visit) -> None:
    page = visit("compare")
    expect(page.locator("#sites .narrow").first).to_be_hidden()
    expect(page.get_by_text("Scroll the table sideways")).to_be_hidden()


def test_another_site_is_laid_over_in_place(visit: Visit) -> None:
    page = visit("compare")
    page.evaluate("window.sameDocument = true")
    drawn = page.locator("#laid figure").inner_html()
    drawn_site = page.get_by_label("Drawn").input_value()
    third = page.get_by_label("Laid over it").locator(
        f"option:not([selected]):not([value='{drawn_site}'])"
    )
    page.get_by_label("Laid over it").select_option(third.get_attribute("value"))
    expect(page).to_have_url(re.compile("with="))
    page.wait_for_function(
        "before => document.querySelector('#laid figure').innerHTML !== before", arg=drawn
    )
    assert page.evaluate("window.sameDocument === true"), "the page was loaded anew"


def test_the_table_can_be_taken_away_as_csv(visit: Visit) -> None:
    page = visit("compare")
    link = page.locator("a[href*='.csv']").first.get_attribute("href")
    assert link
    answer = page.request.get(link)
    assert answer.ok
    assert "Broom Hill" in answer.text()
