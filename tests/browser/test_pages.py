"""Every page, at a desk and on a phone: nothing serious for axe, nothing cut, small or nameless."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.asking import CONTROLS, PRESSED, axe, measure
from tests.browser.contrast import faint_words
from tests.browser.pages import LIKE_OTHERS, PAGES
from tests.browser.pictures import Album
from tests.browser.seeing import Visit

SEEN = [
    (name, size)
    for name in PAGES
    for size in ("desk", "phone")
    if size == "phone" or name not in LIKE_OTHERS
]


@pytest.mark.parametrize(("name", "size"), SEEN)
def test_a_page_can_be_read_and_pressed_by_everybody(
    name: str, size: str, visit: Visit, album: Album
) -> None:
    page = visit(name, size=size)
    picture = f"{name}-paper-{size}"
    pixels = album.keep(page, picture)
    album.cut(pixels, picture)
    wrong = axe(page) + faint_words(page, pixels)
    wrong += measure(page, "smallTexts", 12)
    wrong += measure(page, "smallTargets", 24, PRESSED)
    wrong += measure(page, "sideways")
    wrong += measure(page, "headings")
    wrong += measure(page, "namelessPictures")
    wrong += measure(page, "muteScrollers")
    wrong += measure(page, "blockingScripts")
    if size == "phone":
        wrong += measure(page, "smallTargets", 44, CONTROLS)
    else:
        wrong += _enlarged(page)
    assert not wrong, "\n".join(wrong)


def _enlarged(page: Page) -> list[str]:
    """Look for sideways scroll of a desk at 200 % and at 400 %."""
    wrong = []
    for width, height in ((640, 450), (320, 225)):
        page.set_viewport_size({"width": width, "height": height})
        wrong += measure(page, "sideways")
    return wrong
