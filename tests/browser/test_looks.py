"""Each page in each look: contrast holds, night is red alone, grey is dim and warm."""

from __future__ import annotations

import pytest

from tests.browser.asking import axe
from tests.browser.contrast import faint_words
from tests.browser.pages import LIKE_OTHERS, PAGES
from tests.browser.pictures import (
    Album,
    Pixels,
    brightest,
    cooler_than_grey,
    most_colour,
    not_red,
)
from tests.browser.seeing import LOOKS, Visit

MOST_GREEN_OR_BLUE = 24
RED_TEXT = 200
BRIGHTEST_GREY, MOST_COLOUR_OF_GREY = 165, 30

LOOKED_AT = [
    (name, look)
    for name in PAGES
    for look in ("evening", "night", "grey")  # paper: test_pages.py
    if look == "night" or name not in LIKE_OTHERS  # those by night alone
]


@pytest.mark.parametrize(("name", "look"), LOOKED_AT)
def test_a_page_keeps_its_contrast_and_its_colours(
    name: str, look: str, visit: Visit, album: Album
) -> None:
    page = visit(name, look=look)
    pixels = album.keep(page, f"{name}-{look}-desk")
    wrong = _wrong_colours(look, pixels)
    wrong += faint_words(page, pixels)
    wrong += axe(page, colours_only=True)
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("name", ["home", "season", "compare", "night", "site-form"])
def test_a_page_on_a_phone_by_night_is_red_alone(name: str, visit: Visit, album: Album) -> None:
    page = visit(name, look="night", size="phone")
    pixels = album.keep(page, f"{name}-night-phone")
    wrong = _wrong_colours("night", pixels) + faint_words(page, pixels)
    assert not wrong, "\n".join(wrong)


def test_what_the_browser_draws_itself_is_red_by_night_too(visit: Visit, album: Album) -> None:
    page = visit("site-form", look="night")
    page.locator("main details").evaluate_all("all => all.forEach(one => { one.open = true })")
    page.locator("main input[type=checkbox]:visible").first.check()
    page.get_by_label("Name").fill("typed and selected")
    page.get_by_label("Name").select_text()
    wrong = _wrong_colours("night", album.keep(page, "site-form-used-night-desk"))
    assert not wrong, "\n".join(wrong)


def test_the_button_of_a_file_can_be_read_on_paper(visit: Visit, album: Album) -> None:
    page = visit("darkness-table", look="paper")
    assert not faint_words(page, album.keep(page, "darkness-table-paper-desk"))


@pytest.mark.parametrize(("scheme", "like"), [("light", "paper"), ("dark", "evening")])
def test_without_a_choice_the_device_decides(scheme: str, like: str, visit: Visit) -> None:
    background = "getComputedStyle(document.documentElement).getPropertyValue('--page')"
    by_itself = visit("season", look=None, scheme=scheme).evaluate(background)
    assert by_itself == visit("season", look=like).evaluate(background)


def test_a_chosen_look_does_not_follow_the_device(visit: Visit) -> None:
    background = "getComputedStyle(document.body).backgroundColor"
    light, dark = (visit("home", look="paper", scheme=one) for one in ("light", "dark"))
    assert light.evaluate(background) == dark.evaluate(background)


def test_the_looks_are_told_apart_by_the_page(visit: Visit) -> None:
    background = "getComputedStyle(document.documentElement).getPropertyValue('--ink')"
    inks = {visit("sign-in", look=look).evaluate(background) for look in LOOKS}
    assert len(inks) == len(LOOKS)


def _wrong_colours(look: str, pixels: Pixels) -> list[str]:
    wrong = []
    if look == "night":
        if count := not_red(pixels, most=MOST_GREEN_OR_BLUE):
            wrong.append(f"{count} pixels with green or blue above {MOST_GREEN_OR_BLUE}")
        if brightest(pixels) < RED_TEXT:
            wrong.append(f"nothing is lit: the brightest red is {brightest(pixels)}")
    if look == "grey":
        if brightest(pixels) > BRIGHTEST_GREY:
            wrong.append(f"too bright: {brightest(pixels)}")
        if most_colour(pixels) > MOST_COLOUR_OF_GREY:
            wrong.append(f"a colour: channels {most_colour(pixels)} apart")
        if count := cooler_than_grey(pixels):
            wrong.append(f"{count} pixels with more blue than red")
    return wrong
