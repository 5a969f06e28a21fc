"""Contrast of words that axe-core does not judge, from the screenshot: those inside drawings, and
on the button that a browser draws where a file is chosen."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from playwright.sync_api import Page

from tests.browser.pictures import Pixels

LEAST = 4.5  # WCAG 2.2, 1.4.3, for text of this size
ROUNDED = 3  # of luminance: neighbours that nobody tells apart count as one ground

DRAWN_WORDS = """() => [...document.querySelectorAll("svg text")]
  .filter((text) => text.checkVisibility() && !text.closest("defs"))
  .map((text) => {
    const { x, y, right, bottom } = text.getBoundingClientRect();
    return [text.textContent, x + scrollX, y + scrollY, right + scrollX, bottom + scrollY];
  })"""
# Amid the button, clear of its edge.
FILE_BUTTONS = """() => [...document.querySelectorAll("input[type=file]")]
  .filter((field) => field.checkVisibility())
  .map((field) => {
    const { x, y, bottom } = field.getBoundingClientRect();
    const [left, middle] = [x + scrollX, (y + bottom) / 2 + scrollY];
    return ["button of a file", left + 24, middle - 6, left + 72, middle + 6];
  })"""


def faint_words(page: Page, pixels: Pixels) -> list[str]:
    """Give the words that stand out too little from the commonest colour behind them."""
    wrong = []
    for words, left, top, right, bottom in page.evaluate(DRAWN_WORDS) + page.evaluate(FILE_BUTTONS):
        box = pixels[int(top) : int(bottom) + 1, int(left) : int(right) + 1]
        if box.size and (found := _contrast(luminance(box))) < LEAST:
            wrong.append(f"contrast {found:.2f}: “{words.strip()[:30]}”")
    return wrong


def luminance(pixels: Pixels) -> NDArray[np.float64]:
    """Give relative luminance as WCAG defines it: 0 is black, 1 white."""
    channel = pixels / 255
    linear = np.where(channel <= 0.04045, channel / 12.92, ((channel + 0.055) / 1.055) ** 2.4)
    return np.asarray(linear @ np.array([0.2126, 0.7152, 0.0722]))


def _contrast(light: NDArray[np.float64]) -> float:
    values, counts = np.unique(light.round(ROUNDED), return_counts=True)
    ground = values[counts.argmax()]
    lighter = (light.max() + 0.05) / (ground + 0.05)
    darker = (ground + 0.05) / (light.min() + 0.05)
    return float(max(lighter, darker))
