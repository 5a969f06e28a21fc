"""What a square for phones says, read by a reader that is not ours (ISO/IEC 18004)."""

from __future__ import annotations

import io
import re

import resvg_py
import zxingcpp
from PIL import Image

PIXELS = 600


def qr_read(page: str) -> str:
    """Read the one square of a page, as the camera of a phone would see it."""
    (square,) = re.findall(r"<svg[^>]*class=\"qr\".*?</svg>", page, flags=re.S)
    drawn = resvg_py.svg_to_bytes(svg_string=square, width=PIXELS)
    (found,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(bytes(drawn))).convert("L"))
    return found.text
