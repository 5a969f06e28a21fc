"""Pages that are handed round on paper: clean on A4 and Letter, and nothing cut."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, PdfMargins

from tests.browser.asking import measure
from tests.browser.pictures import Album
from tests.browser.seeing import Visit

PRINTED = [
    "season", "calendar", "compare", "night", "night-polar", "trip-night-brief", "trip-invitation",
]  # fmt: skip
# Width between margins of 10 mm in CSS pixels (1/96 inch), upright and on its side.
SHEETS = {"A4": (718, 1047), "Letter": (740, 980)}
# A browser's own margins; the style of a page may name others.
MARGINS: PdfMargins = {"top": "10mm", "right": "10mm", "bottom": "10mm", "left": "10mm"}
# Browsers print what is a little too wide a little smaller; beyond that it is cut or tiny.
A_LITTLE_WIDER = 1.03
MOST_SHEETS = {
    "season": 5, "calendar": 3, "compare": 1, "night": 1, "night-polar": 1,
    "trip-night-brief": 7, "trip-invitation": 1,
}  # fmt: skip
NOT_ON_PAPER = "header.top, footer.foot, nav, form, button, .skip, .noprint"
WIDER_THAN_PAPER = """sheet => [...document.querySelectorAll("main :is(table, svg, p, dl)")]
  .filter((element) => element.checkVisibility())
  .filter((element) => element.getBoundingClientRect().right > sheet + 1)
  .map((element) => element.tagName + " " + (element.className.baseVal ?? element.className)
    + " to " + Math.round(element.getBoundingClientRect().right) + " px of " + sheet)"""


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", PRINTED)
def test_a_page_prints_clean(name: str, sheet: str, visit: Visit, album: Album) -> None:
    page = visit(name)
    page.emulate_media(media="print")
    shown = page.locator(NOT_ON_PAPER).evaluate_all(
        "all => all.filter(one => one.checkVisibility()).map(one => one.outerHTML.slice(0, 80))"
    )
    assert not shown, "\n".join(shown)
    printed = page.pdf(format=sheet, prefer_css_page_size=True, margin=MARGINS)
    (album.folder / f"{name}-{sheet}.pdf").write_bytes(printed)
    assert _cut(page, name, sheet) == []
    assert 1 <= _sheets(printed) <= MOST_SHEETS[name]


@pytest.mark.parametrize("look", ["evening", "night", "grey"])
def test_print_is_black_on_white_in_every_look(look: str, visit: Visit, album: Album) -> None:
    page = visit("night", look=look)
    page.emulate_media(media="print")
    pixels = album.keep(page, f"night-{look}-print")
    assert pixels[0, 0].tolist() == [255, 255, 255]
    assert (pixels.min(axis=-1) > 240).mean() > 0.5, "more than half of a sheet is paper"


def _cut(page: Page, name: str, sheet: str) -> list[str]:
    upright, across = SHEETS[sheet]
    width = across if name == "compare" else upright
    page.set_viewport_size({"width": width, "height": 1000})
    found: list[str] = page.evaluate(WIDER_THAN_PAPER, round(width * A_LITTLE_WIDER))
    return found + measure(page, "cutTexts")


def _sheets(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))
