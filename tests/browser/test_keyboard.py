"""The keyboard alone: every control is reached, in order, and it can be seen where one is."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.pages import LIKE_OTHERS, PAGES
from tests.browser.seeing import Visit

# What can be reached now and was not stopped at yet; a group of radio buttons is one stop.
UNREACHED = """() => {
  const wanted = "a[href], button, select, textarea, summary, input:not([type=hidden]), [tabindex]";
  const radios = new Set();
  return [...document.querySelectorAll(wanted)].filter((element) => {
    if (element.tabIndex < 0 || element.disabled || !element.checkVisibility()) return false;
    if (element.closest("details:not([open])") && !element.matches("summary")) return false;
    if (element.type !== "radio") return true;
    if (radios.has(element.name)) return false;
    radios.add(element.name);
    return true;
  }).filter((element) => !element.dataset.stop).map((element) => element.outerHTML.slice(0, 120))
}"""
HERE = """() => {
  const element = document.activeElement;
  if (!element || element === document.body) return null;
  element.dataset.stop ??= String(document.querySelectorAll("[data-stop]").length);
  const box = element.getBoundingClientRect();
  // A box drawn as a chip is marked on its label, a link of a picture on the area behind it.
  const drawn = [element, element.closest("label"), element.querySelector("rect")].filter(Boolean);
  const marked = drawn.some((part) => {
    const { outlineStyle, outlineWidth, boxShadow, stroke, strokeWidth } = getComputedStyle(part);
    if (part.tagName === "rect") return stroke !== "none" && parseFloat(strokeWidth) >= 2;
    return (outlineStyle !== "none" && parseFloat(outlineWidth) >= 2) || boxShadow !== "none";
  });
  const inside = box.bottom > 0 && box.top < innerHeight && box.right > 0;
  const words = element.getAttribute("aria-label") || element.textContent || element.name || "";
  return {
    stop: element.dataset.stop,
    name: element.tagName.toLowerCase() + " “" + words.trim().slice(0, 40) + "”",
    seen: marked && inside,
  };
}"""


def stops(page: Page, *, most: int) -> list[dict[str, Any]]:
    """Press Tab until the page begins anew; give where it stopped."""
    found: list[dict[str, Any]] = []
    for _ in range(most):
        page.keyboard.press("Tab")
        here = page.evaluate(HERE)
        # Beyond the last control the browser itself is next; the parts of a date are stops too.
        if here is None or (found and here["stop"] == found[-1]["stop"]):
            continue
        if found and here["stop"] == found[0]["stop"]:
            break
        found.append(here)
    return found


# The calendar is made like the season's page and has a stop for each night of the year.
WALKED = [name for name in PAGES if name not in LIKE_OTHERS and name != "calendar"]


@pytest.mark.parametrize("name", WALKED)
def test_the_keyboard_reaches_every_control_and_shows_where_it_is(name: str, visit: Visit) -> None:
    page = visit(name)
    parts = 3 * page.locator("input[type=date], input[type=time]").count()
    found = stops(page, most=len(page.evaluate(UNREACHED)) + parts + 10)
    unseen = [stop["name"] for stop in found if not stop["seen"]]
    assert not unseen, "\n".join(unseen)
    assert page.evaluate(UNREACHED) == []


@pytest.mark.parametrize("look", ["paper", "night"])
def test_the_first_stop_skips_to_the_content(look: str, visit: Visit) -> None:
    page = visit("season", look=look)
    page.keyboard.press("Tab")
    skip = page.locator(":focus")
    assert skip.get_attribute("href") == "#content"
    box = skip.bounding_box()
    assert box
    assert box["x"] >= 0
    assert min(box["width"], box["height"]) >= 24
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")


def test_a_table_that_is_too_wide_is_scrolled_by_the_keyboard(visit: Visit) -> None:
    page = visit("compare", size="phone")
    table = page.locator(".wide").first
    table.focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("element => element.scrollLeft > 0", arg=table.element_handle())
