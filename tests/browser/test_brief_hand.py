"""A brief in its instructor's hand: saved where one stands, and nothing typed is lost."""

from __future__ import annotations

from django.urls import reverse
from playwright.sync_api import Dialog, Page, expect

from tests.browser.seeing import Eyes, Windows
from tests.browser.serving import Served

SAVED = "Saved. People read it once it is published."


def test_a_part_is_saved_in_place_and_what_else_is_typed_stays(
    windows: Windows, served: Served
) -> None:
    context = windows.fresh(Eyes())
    page = context.new_page()
    page.goto(reverse("trip_night_brief", args=[served.facts["trip night"]]))
    _type(page, "permit", "Names are on a list.")
    _type(page, "way", "Park before the gate. שלום <b>")
    page.locator("#hand-way").scroll_into_view_if_needed()
    before = page.evaluate("scrollY")
    page.locator("#save-way").click()

    expect(page.locator("#hand-way [role=status]")).to_have_text(SAVED)
    expect(page.locator("#hand-way .written")).to_contain_text("שלום <b>")
    expect(page.locator("#handlist li", has_text="Way there")).to_contain_text("written")
    expect(page.locator("#news")).to_contain_text("Way there: who leads wrote into it.")
    assert abs(page.evaluate("scrollY") - before) < 100
    assert page.evaluate("document.activeElement.id") == "save-way"
    assert page.locator("#text-permit").input_value() == "Names are on a list."

    asked: list[str] = []
    page.once("dialog", lambda dialog: _stay(dialog, asked))
    page.locator(".crumbs a").first.click(no_wait_after=True)
    expect(page.locator("#text-permit")).to_be_visible()
    assert asked == ["beforeunload"]

    context.set_offline(True)
    page.locator("#save-permit").click()
    expect(page.locator("#hand-permit [role=alert]")).to_contain_text("nothing was saved")
    context.set_offline(False)
    context.clear_cookies(name="sessionid")
    page.locator("#save-permit").click()
    page.get_by_label("Password").wait_for()
    assert "Names+are+on+a+list." in page.content()
    context.close()


def _type(page: Page, part: str, words: str) -> None:
    page.locator(f"#hand-{part} summary", has_text="Write into it").click()
    page.locator(f"#text-{part}").fill(words)


def _stay(dialog: Dialog, asked: list[str]) -> None:
    asked.append(dialog.type)
    dialog.dismiss()
