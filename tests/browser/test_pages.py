"""Every page, at a desk and on a phone: nothing serious for axe, nothing cut, small or nameless."""

from __future__ import annotations

import pytest

from tests.browser.asking import CONTROLS, PRESSED, axe, measure
from tests.browser.pages import PAGES
from tests.browser.pictures import Album
from tests.browser.seeing import SIZES, Visit


@pytest.mark.parametrize("size", ["desk", "phone"])
@pytest.mark.parametrize("name", PAGES)
def test_a_page_can_be_read_and_pressed_by_everybody(
    name: str, size: str, visit: Visit, album: Album
) -> None:
    page = visit(name, size=size)
    album.keep(page, f"{name}-paper-{size}")
    wrong = axe(page)
    wrong += measure(page, "smallTexts", 12)
    wrong += measure(page, "smallTargets", 24, PRESSED)
    wrong += measure(page, "sideways")
    wrong += measure(page, "headings")
    wrong += measure(page, "namelessPictures")
    wrong += measure(page, "muteScrollers")
    if size == "phone":
        wrong += measure(page, "smallTargets", 44, CONTROLS)
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("name", PAGES)
def test_a_page_does_not_scroll_sideways_when_it_is_enlarged(name: str, visit: Visit) -> None:
    page = visit(name, size="zoomed")
    wrong = measure(page, "sideways")
    page.set_viewport_size({"width": 320, "height": SIZES["phone"]["height"]})  # 400 %
    wrong += measure(page, "sideways")
    assert not wrong, "\n".join(wrong)
