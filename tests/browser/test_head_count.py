"""The head count on a phone whose signal comes and goes: nothing twice, nothing lost."""

from __future__ import annotations

from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.browser.seeing import Windows
from tests.browser.serving import Served

# Whether the page that is kept on the phone says so.
KEPT = """async words => {
  const kept = await caches.match(location.pathname);
  return (await kept?.text())?.includes(words);
}"""

# A mark of the first person of the page, as a phone gone wrong might keep it.
BROKEN = """() => {
  const page = document.querySelector(".count-page"), item = page.querySelector("li[data-who]");
  const mark = {uid: "1", who: item.dataset.who, name: "Somebody", kind: "here", at: "yesterday"};
  const box = `marks ${location.pathname} ${page.dataset.night}`;
  localStorage.setItem(box, JSON.stringify([mark]));
  return mark.who;
}"""


def _big(page: Page) -> str:
    return page.locator(".big").inner_text()


def test_marks_made_without_signal_outlive_the_page_and_arrive_once(
    windows: Windows, served: Served
) -> None:
    address = reverse("head_count", args=[served.facts["links"]["head count"]])
    context = windows.browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(served.origin + address)
    page.evaluate("navigator.serviceWorker.ready")
    _here(page)
    expect(page.locator("[data-kept]")).to_contain_text("Every mark is sent")
    page.wait_for_function(KEPT, arg="data-number>1<")

    context.set_offline(True)
    _here(page)
    assert _big(page).startswith("2")
    page.reload()
    expect(page.locator("[data-kept]")).to_contain_text("1 mark waits for signal")
    assert _big(page).startswith("2")

    context.set_offline(False)
    expect(page.locator("[data-kept]")).to_contain_text("Every mark is sent")
    page.reload()
    assert _big(page).startswith("2")
    page.locator("[data-leaving]").click()
    page.get_by_role("button", name="has left").first.click()
    expect(page.locator("[data-words-left]")).to_be_visible()
    assert _big(page).startswith("1")
    context.close()


def test_a_mark_that_cannot_be_read_is_said_once_and_not_sent_for_ever(
    windows: Windows, served: Served
) -> None:
    address = reverse("head_count", args=[served.facts["links"]["head count"]])
    context = windows.browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(served.origin + address)
    who = page.evaluate(BROKEN)
    page.reload()
    refused = page.locator("[data-refused]")
    expect(refused).to_contain_text("cannot be read: count the person again")
    expect(page.locator("[data-kept]")).to_contain_text("Every mark is sent")
    page.reload()
    expect(refused).to_be_visible()
    page.locator(f"#{who} .when-still").click()
    expect(refused).to_be_hidden()
    page.locator(f"#{who} .when-here.undo").click()  # the next test finds nobody counted
    expect(page.locator("[data-kept]")).to_contain_text("Every mark is sent")
    context.close()


def _here(page: Page) -> None:
    page.locator("li[data-state=still] .when-still").first.click()
