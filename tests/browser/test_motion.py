"""Who asks for less motion gets none."""

from __future__ import annotations

import pytest

from tests.browser.seeing import Visit

MOVING = """() => [...document.querySelectorAll("*")].filter((element) => {
  const { animationName, animationDuration, transitionDuration, scrollBehavior } =
    getComputedStyle(element);
  const lasting = (text) => text.split(",").some((one) => parseFloat(one) > 0.01);
  return (animationName !== "none" && lasting(animationDuration)) || lasting(transitionDuration)
    || scrollBehavior === "smooth";
}).map((element) => element.outerHTML.slice(0, 80))"""


@pytest.mark.parametrize("name", ["home", "season", "compare", "night", "job", "site-form"])
def test_nothing_moves_for_who_asked_for_stillness(name: str, visit: Visit) -> None:
    assert visit(name, still=True).evaluate(MOVING) == []
