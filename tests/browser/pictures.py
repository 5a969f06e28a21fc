"""Screenshots: kept for people, and read for their colours."""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from playwright.sync_api import Page

Pixels = NDArray[np.uint8]

PIECE_PX, MOST_PIECES = 2000, 4


@dataclass(frozen=True, slots=True)
class Album:
    folder: Path

    def keep(self, page: Page, name: str, *, whole: bool = True) -> Pixels:
        """Keep the page (or the window) as NAME.png; give its rows × columns × (R, G, B)."""
        if whole:
            _unroll(page)
        picture = page.screenshot(full_page=whole)
        (self.folder / f"{name}.png").write_bytes(picture)
        return np.asarray(Image.open(io.BytesIO(picture)).convert("RGB"))

    def cut(self, pixels: Pixels, name: str) -> None:
        """Keep a long page in pieces too, NAME.1.png and on: the whole is too small to see."""
        if len(pixels) > PIECE_PX:
            for n in range(min(MOST_PIECES, -(-len(pixels) // PIECE_PX))):
                piece = Image.fromarray(pixels[n * PIECE_PX : (n + 1) * PIECE_PX])
                piece.save(self.folder / f"{name}.{n + 1}.png", compress_level=1)


def _unroll(page: Page) -> None:
    """Make the window as high as the page: what is fixed to the window then covers all of it."""
    size = page.viewport_size
    assert size
    height = page.evaluate("document.documentElement.scrollHeight")
    page.set_viewport_size({"width": size["width"], "height": max(size["height"], height)})


def not_red(pixels: Pixels, *, most: int) -> int:
    """Count the pixels with more green or blue than `most` of 255."""
    return int((pixels[..., 1:] > most).any(axis=-1).sum())


def brightest(pixels: Pixels) -> int:
    return int(pixels.max())


def most_colour(pixels: Pixels) -> int:
    """Give the widest gap between the channels of one pixel: 0 is grey."""
    return int(np.ptp(pixels, axis=-1).max())


def cooler_than_grey(pixels: Pixels) -> int:
    """Count the pixels with more blue than red."""
    return int((pixels[..., 2].astype(int) > pixels[..., 0].astype(int) + 2).sum())
