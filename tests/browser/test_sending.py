"""Forms behind a private link, on a phone: nothing twice, and no typing lost with the signal."""

from __future__ import annotations

from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.browser.seeing import Windows
from tests.browser.serving import Served

WORDS = "No signal: nothing was sent."


def test_a_form_waits_for_signal_and_goes_once(windows: Windows, served: Served) -> None:
    address = reverse("my_gear", args=[served.facts["links"]["person"]])
    context = windows.browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(served.origin + address)
    lens = page.locator("form", has=page.get_by_role("button", name="Add this lens"))
    lens.locator("[name=focal]").fill("19")
    lens.locator("[name=widest]").fill("2.8")

    context.set_offline(True)
    lens.get_by_role("button").click()
    expect(page.locator("#no-signal")).to_contain_text(WORDS)
    assert lens.locator("[name=focal]").input_value() == "19"

    context.set_offline(False)
    posted: list[str] = []
    page.on("request", lambda one: posted.append(one.url) if one.method == "POST" else None)
    lens.get_by_role("button").dblclick()
    page.wait_for_url("**said=added**")
    assert len(posted) == 1
    expect(page.locator(".piece:target")).to_contain_text("19 mm f/2.8")
    _batteries_step_on_the_spot(page, posted)
    context.close()


def _batteries_step_on_the_spot(page: Page, posted: list[str]) -> None:
    number = page.locator("[name=batteries]")
    number.fill("98")
    for _press in range(3):
        page.get_by_role("button", name="more").first.click()
    assert number.input_value() == "99"
    page.get_by_role("button", name="less").first.click()
    assert number.input_value() == "98"
    number.fill("some")
    page.get_by_role("button", name="less").first.click()  # for the server to say
    expect(page.locator(".small-things .errorlist")).to_be_visible()
    assert len(posted) == 2
