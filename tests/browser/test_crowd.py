"""Two hundred sites with names in any script: nothing breaks out, nothing is taken for markup."""

from __future__ import annotations

import pytest

from tests.browser.asking import axe, measure
from tests.browser.pages import CROWDED
from tests.browser.pictures import Album
from tests.browser.seeing import Visit


@pytest.mark.parametrize("name", CROWDED)
def test_a_page_of_two_hundred_sites_fits_a_phone(name: str, visit: Visit, album: Album) -> None:
    page = visit(name, size="phone")
    album.keep(page, f"{name}-paper-phone", whole=False)
    wrong = measure(page, "sideways") + measure(page, "headings") + measure(page, "smallTexts", 12)
    page.set_viewport_size({"width": 1280, "height": 900})
    album.keep(page, f"{name}-paper-desk", whole=False)
    wrong += measure(page, "sideways") + axe(page)
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("name", CROWDED)
def test_a_name_is_shown_as_it_was_typed(name: str, visit: Visit) -> None:
    page = visit(name)
    assert page.locator("main b", has_text="Bold").count() == 0
    if name in ("crowded-site-list", "crowded-season-form"):
        assert "<b>Bold</b> & “quoted” 5" in page.locator("main").inner_text()
