"""A skyline drawn on its picture: by pointer, by keys, and what the lines of text then say."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.seeing import Visit

Point = tuple[float, float]


def lines(page: Page) -> list[Point]:
    typed = page.locator("textarea[name=skyline]").input_value()
    pairs = [line.split() for line in typed.splitlines()]
    return [(float(azimuth), float(altitude)) for azimuth, altitude in pairs]


def plot(page: Page, azimuth: float, altitude: float) -> Point:
    """Give the place on the screen of a direction on the lying picture, which begins at north."""
    picture = page.locator("svg.picture.lying")
    x, y, width, height, first, span = map(
        float, (picture.get_attribute("data-panels") or "").split()
    )
    low, high = map(float, (picture.get_attribute("data-heights") or "").split())
    picture.scroll_into_view_if_needed()
    box = picture.bounding_box()
    assert box
    scale = box["width"] / float((picture.get_attribute("viewBox") or "").split()[2])
    return (
        box["x"] + scale * (x + (azimuth - first) * width / span),
        box["y"] + scale * (y + (high - altitude) * height / (high - low)),
    )


def slider(page: Page) -> Locator:
    return page.get_by_role("slider", name="Draw by the keyboard")


def test_a_press_sets_a_point(visit: Visit) -> None:
    page = visit("spot-add")
    page.mouse.click(*plot(page, 120, 15))
    ((azimuth, altitude),) = lines(page)
    assert azimuth == pytest.approx(120, abs=1)
    assert altitude == pytest.approx(15, abs=1)


def test_a_stroke_sets_a_point_a_degree_and_takes_the_place_of_what_was_there(
    visit: Visit,
) -> None:
    page = visit("spot-add")
    page.locator("textarea[name=skyline]").fill("50 1\n110 40\n200 3")
    page.mouse.move(*plot(page, 100, 10))
    page.mouse.down()
    page.mouse.move(*plot(page, 120, 20), steps=4)
    page.mouse.up()
    found = dict(lines(page))
    assert (found[50], found[200]) == (1, 3)
    assert found[110] == pytest.approx(15, abs=1.5)
    assert 19 <= len(found) - 2 <= 23


def test_a_stroke_across_north_does_not_go_the_long_way_round(visit: Visit) -> None:
    """Two presses near north with the far side kept: nothing of it is drawn over."""
    page = visit("spot-add")
    page.locator("textarea[name=skyline]").fill("180 5")
    page.mouse.click(*plot(page, 355, 10))
    page.mouse.click(*plot(page, 5, 10))
    assert dict(lines(page))[180] == 5
    assert len(lines(page)) == 3


def test_the_keys_set_a_point_and_take_it_off(visit: Visit) -> None:
    page = visit("spot-add")
    slider(page).focus()
    page.keyboard.press("Home")
    page.keyboard.press("Shift+ArrowRight")
    for _ in range(3):
        page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")
    assert lines(page) == [(10, 1.5)]
    expect(page.get_by_role("status").filter(has_text="set")).to_have_text("10°, 1.5° high: set")
    page.keyboard.press("Delete")
    assert lines(page) == []


def test_the_keys_turn_past_north(visit: Visit) -> None:
    page = visit("spot-add")
    slider(page).focus()
    page.keyboard.press("Home")
    page.keyboard.press("ArrowLeft")
    expect(slider(page)).to_have_attribute("aria-valuenow", "359")


def test_tab_leaves_the_board(visit: Visit) -> None:
    page = visit("spot-add")
    slider(page).focus()
    page.keyboard.press("Tab")
    expect(slider(page)).not_to_be_focused()


def test_a_text_that_cannot_be_read_is_left_alone(visit: Visit) -> None:
    page = visit("spot-add")
    page.locator("textarea[name=skyline]").fill("90 ninety")
    page.mouse.click(*plot(page, 120, 15))
    assert page.locator("textarea[name=skyline]").input_value() == "90 ninety"
    expect(page.get_by_text("put it right before drawing")).to_be_visible()


def test_what_is_drawn_is_what_is_saved(visit: Visit) -> None:
    page = visit("spot-add")
    page.get_by_label("Name").first.fill("Drawn by hand")
    page.mouse.click(*plot(page, 90, 12))
    page.mouse.click(*plot(page, 270, 4))
    drawn = lines(page)
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Drawn by hand")
    page.get_by_role("link", name="Edit").click()
    assert lines(page) == drawn


def test_the_picture_follows_what_is_typed(visit: Visit) -> None:
    page = visit("spot-add")
    edge = page.locator("svg.picture.lying .edge")
    before = edge.get_attribute("d")
    page.locator("textarea[name=skyline]").fill("0 5\n180 30")
    assert edge.get_attribute("d") != before
    typed = edge.get_attribute("d")
    page.locator("textarea[name=skyline]").fill("0 5\n180 thirty")
    assert edge.get_attribute("d") == typed
    page.locator("textarea[name=skyline]").fill("")
    assert edge.get_attribute("d") == before
