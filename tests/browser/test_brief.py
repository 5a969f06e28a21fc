"""The brief in the hand: in the field, by night, without signal, on one sheet, and revoked."""

from __future__ import annotations

import gzip
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from urllib.request import Request, urlopen

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.asking import CONTROLS, axe, measure
from tests.browser.pictures import Album, not_red
from tests.browser.seeing import Visit, Windows
from tests.browser.serving import Served, serving
from tests.trips.services_at_hand import free_port
from trips.planning.brief.parts import AT_HOME, IN_THE_FIELD

MOST_RAW, MOST_PACKED = 400_000, 150_000
NIGHTS = 3
MOST_GREEN_OR_BLUE = 24
ORDER = "[...document.querySelectorAll('main .part')].map(part => part.id)"
# What the worker keeps, and whether something is beyond the sheet.
KEPT = """async () => {
  const cache = await caches.open((await caches.keys())[0]);
  return (await cache.keys()).map(one => one.url);
}"""
CUT = """one => {
  const box = one.getBoundingClientRect();
  return box.bottom > innerHeight || box.left > innerWidth - 20;
}"""


def _phone(browser: Browser, **options: object) -> BrowserContext:
    context = browser.new_context(viewport={"width": 390, "height": 844}, **options)  # type: ignore[arg-type]
    context.set_default_timeout(5_000)
    return context


@pytest.fixture
def phone(windows: Windows) -> Iterator[BrowserContext]:
    context = _phone(windows.browser)
    yield context
    context.close()


def _address(served: Served, person: str = "person") -> str:
    return f"/b/{served.facts['links'][person]}/{served.facts['evening']}/"


def _at(page: Page, address: str, instant: float) -> None:
    page.clock.set_fixed_time(datetime.fromtimestamp(instant, UTC))
    page.goto(address)


def _data(page: Page, name: str) -> float:
    return float(page.locator("main").get_attribute(f"data-{name}") or "nan")


def _targets(page: Page) -> list[tuple[float, float]]:
    found = page.locator(".target").evaluate_all(
        "all => all.map(one => [one.dataset.from, one.dataset.to])"
    )
    return [(float(start), float(end)) for start, end in found]


def test_at_home_and_without_script_the_order_is_that_of_home(
    served: Served, windows: Windows, phone: BrowserContext
) -> None:
    page = phone.new_page()
    page.goto(served.origin + _address(served))  # on a day long before
    there = page.evaluate(ORDER)
    assert there == [name for name in AT_HOME if name in there]
    assert page.locator("#now").count() == 0
    assert page.locator("html").get_attribute("data-look") is None
    whole = page.locator("main").inner_text()
    plain = _phone(windows.browser, java_script_enabled=False)
    page = plain.new_page()
    page.goto(served.origin + _address(served))
    words = re.split(r"Saved on|Version 1", page.locator("main").inner_text())[0]
    assert words == re.split(r"Saved on|Version 1", whole)[0]
    page.locator(".thumb").get_by_text("Red").click()
    expect(page.locator("html")).to_have_attribute("data-look", "night")
    plain.close()


def test_in_the_field_what_is_now_comes_first_and_what_is_past_folds(
    served: Served, phone: BrowserContext, album: Album
) -> None:
    page, address = phone.new_page(), served.origin + _address(served)
    page.goto(address)
    targets = _targets(page)
    _at(page, address, targets[-1][0] + 60)
    there = page.evaluate(ORDER)
    assert there == ["now", *(name for name in IN_THE_FIELD if name in there)]
    name = page.locator(".target h3 bdi").all_inner_texts()
    assert page.locator("#now h2").inner_text() in name
    expect(page.locator("#now")).to_contain_text("Back")
    assert page.locator("summary .state", has_text="past").count() >= 2
    # The red look came by itself: the Sun is down, and nobody chose another.
    assert page.locator("html").get_attribute("data-look") == "night"
    pixels = album.keep(page, "brief-field-night-phone")
    assert not_red(pixels, most=MOST_GREEN_OR_BLUE) == 0
    wrong = axe(page) + measure(page, "smallTexts", 18) + measure(page, "sideways")
    wrong += measure(page, "smallTargets", 48, CONTROLS + ", summary, .thumb a")
    page.set_viewport_size({"width": 320, "height": 568})
    wrong += measure(page, "sideways") + measure(page, "smallTexts", 18)
    assert not wrong, "\n".join(wrong)
    _at(page, address, _data(page, "home") + 60)
    assert page.locator("#now").count() == 0
    expect(page.locator("#over")).to_contain_text("This night is over.")
    assert page.locator(".decided").count() == 0
    assert page.evaluate(ORDER)[0] == "help"
    expect(page.locator("#meet .clock")).to_be_hidden()


def test_a_chosen_look_outlives_the_night(served: Served, phone: BrowserContext) -> None:
    page, address = phone.new_page(), served.origin + _address(served)
    page.goto(address)
    page.locator(".thumb").get_by_text("Grey").click()
    expect(page.locator("html")).to_have_attribute("data-look", "grey")
    assert page.locator(".thumb [aria-current]").inner_text() == "Grey"
    _at(page, address, _data(page, "meet") + 4 * 3600)
    assert page.locator("html").get_attribute("data-look") == "grey"


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
def test_a_night_is_one_sheet_of_paper(sheet: str, visit: Visit, album: Album) -> None:
    page = visit("brief", look="night")
    printed = page.pdf(format=sheet, prefer_css_page_size=True)
    (album.folder / f"brief-{sheet}.pdf").write_bytes(printed)
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) == 1
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 714, "height": 1000})
    for part in (".decided", ".clock", "#dangers", "#night", "#help", "#help address"):
        assert page.locator(part).is_visible(), part
        assert not page.locator(part).evaluate(CUT), part


def test_without_a_server_every_night_opens_and_a_link_that_is_over_says_so_later(
    served: Served, phone: BrowserContext
) -> None:
    """The server is stopped for real; the link is revoked before the phone is back."""
    address, port = _address(served, "third person"), free_port()
    page = phone.new_page()
    with serving(served.stage, port) as origin:
        page.goto(origin + address)
        expect(page.locator("[data-kept]")).to_contain_text("Saved on this phone: version 1")
        _weigh(page, origin)
    page.reload()
    expect(page.locator(".when-stored")).to_contain_text("This is version 1")
    expect(page.locator("#meet")).to_be_visible()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(250, 247, 240)"
    page.locator(".thumb").get_by_text("Red").click()
    page.reload()
    assert page.locator("html").get_attribute("data-look") == "night"
    page.get_by_role("link", name="My place on this trip").click()
    page.locator(".brief-link").last.click()
    expect(page.locator("#meet")).to_be_visible()
    with serving(served.stage, port) as origin:
        place = f"{origin}/b/{served.facts['links']['third person']}/"
        urlopen(Request(f"{place}new-link/", method="POST", data=b"")).close()
        page.evaluate("dispatchEvent(new Event('online'))")
        expect(page.locator("h1")).to_contain_text("This link opens nothing")
        page.wait_for_function("async () => (await caches.keys()).length === 0")


def _weigh(page: Page, origin: str) -> None:
    """What the worker keeps, as if the trip had three nights of the first one's size."""
    kept: list[str] = page.evaluate(KEPT)
    bodies = {url: urlopen(url).read() for url in kept}
    nights = [url for url in kept if re.search(r"/\d{4}-\d\d-\d\d/$", url)]
    assert nights
    more = [bodies[nights[0]]] * (NIGHTS - len(nights))
    raw = [*bodies.values(), *more]
    assert sum(map(len, raw)) <= MOST_RAW
    assert sum(len(gzip.compress(body)) for body in raw) <= MOST_PACKED
    assert all(url.startswith(origin) for url in kept)
