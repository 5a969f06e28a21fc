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


@dataclass(frozen=True, slots=True)
class Album:
    folder: Path

    def keep(self, page: Page, name: str) -> Pixels:
        """Keep the whole page as NAME.png; give its pixels as rows × columns × (R, G, B)."""
        picture = page.screenshot(full_page=True)
        (self.folder / f"{name}.png").write_bytes(picture)
        return np.asarray(Image.open(io.BytesIO(picture)).convert("RGB"))
