"""The guard and the measures see what they are there for: each is shown a breach once."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Page

from tests.browser.asking import PRESSED, axe, measure
from tests.browser.contrast import faint_words
from tests.browser.guard import Guard
from tests.browser.pictures import Album, cooler_than_grey, most_colour, not_red
from tests.browser.seeing import Eyes, Windows


@pytest.fixture
def page(windows: Windows) -> Iterator[Page]:
    """Give a page that nobody guards yet."""
    opened = windows.shared(Eyes()).new_page()
    yield opened
    opened.close()


BREACHES = {
    "an inline script": ("const s = document.createElement('script'); s.text = '1'", "console"),
    "an inline style": ("const s = document.createElement('style'); s.text = ''", "console"),
    "another host": ("const s = new Image(); s.src = 'http://elsewhere.example/x.png'", "console"),
    "a missing file": ("const s = new Image(); s.src = '/static/missing.png'", "answered 404"),
    "a script that breaks": (
        "const s = document.createElement('i'); setTimeout(() => { throw Error('broke') })",
        "script: broke",
    ),
}


@pytest.mark.parametrize(("deed", "told"), BREACHES.values(), ids=BREACHES)
def test_the_guard_tells_of(deed: str, told: str, page: Page, windows: Windows) -> None:
    guard = Guard(page, windows.served.origin, expected_status=200)
    page.goto("/sites/")
    assert guard.breaches == []
    page.evaluate(f"() => {{ {deed}; document.body.append(s) }}")
    page.wait_for_timeout(200)
    assert any(breach.startswith(told) for breach in guard.breaches), guard.breaches


WRONG: dict[str, tuple[str, str, str, list[Any]]] = {
    "smallTexts": ("<p class='wrong'>small</p>", "font-size", "11px", [12]),
    "smallTargets": ("<button class='wrong'>x</button>", "all", "revert", [24, PRESSED]),
    "sideways": ("<p class='wrong'>wide</p>", "min-width", "3000px", []),
    "headings": ("<h5 class='wrong'>deep</h5>", "color", "red", []),
    "namelessPictures": ("<svg class='wrong'></svg>", "color", "red", []),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_measure_finds(name: str, page: Page) -> None:
    markup, key, value, values = WRONG[name]
    page.goto("/seasons/")
    assert measure(page, name, *values) == []
    page.evaluate(
        """([markup, key, value]) => {
          document.querySelector("main").insertAdjacentHTML("beforeend", markup);
          document.querySelector(".wrong").style.setProperty(key, value, "important");
        }""",
        [markup, key, value],
    )
    assert len(measure(page, name, *values)) >= 1


def test_axe_finds_a_button_without_a_name(page: Page) -> None:
    page.goto("/seasons/")
    assert axe(page) == []
    page.evaluate("document.querySelector('main').append(document.createElement('button'))")
    assert any(found.startswith("button-name") for found in axe(page))


def test_a_drawn_word_that_is_faint_is_found(page: Page, album: Album) -> None:
    page.goto("/seasons/")
    page.evaluate(
        """() => document.querySelector("main").insertAdjacentHTML("beforeend",
          '<svg width="300" height="40"><text y="20" fill="#22252b">plain</text>' +
          '<text x="90" y="20" fill="#b5b0a5">hardly there</text></svg>')"""
    )
    [found] = faint_words(page, album.keep(page, "faint"))
    assert "hardly there" in found


def test_a_colour_is_counted_and_its_absence_is_not() -> None:
    red, grey, blue = ([240, 0, 0], [120, 110, 100], [10, 20, 90])
    pixels = np.array([[red, grey], [blue, red]], dtype=np.uint8)
    assert not_red(pixels, most=24) == 2
    assert not_red(pixels[:, :1][:1], most=24) == 0
    assert cooler_than_grey(pixels) == 1
    assert most_colour(np.array([[grey]], dtype=np.uint8)) == 20
