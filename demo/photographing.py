"""Takes the README's pictures of served pages: real screenshots, made small.

Playwright and Pillow come with the development installation alone, so they are imported late.
"""

from __future__ import annotations

import importlib.util
import io
import shutil
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from django.utils.translation import gettext as _

if TYPE_CHECKING:
    from playwright.sync_api import Page

MOST_BYTES = 150_000
COLOURS = (256, 192, 128, 96, 64, 48, 32)
ROOM_BELOW_PX = 24
# The one without a window draws the same pages with a third less work.
PROGRAMS = ("chromium-headless-shell", "chromium")


class NoCameraError(Exception):
    """What a picture needs is not on this machine; the words say what."""


@dataclass(frozen=True, slots=True)
class Sight:
    """What one picture shows: a page in a look, from its top down to the last thing wanted."""

    name: str
    address: str
    look: str
    width: int  # CSS pixels
    down_to: str  # CSS selector
    at: datetime | None = None  # what the page takes for now, where that decides what it shows


def find_camera() -> str:
    """Give the path of Chromium; errors: `NoCameraError` for it or a package that is missing."""
    for package in ("playwright", "PIL"):
        if importlib.util.find_spec(package) is None:
            words = _("“%(package)s” is not installed: pip install -e '.[dev]' brings it.")
            raise NoCameraError(words % {"package": package})
    program = chromium()
    if program is None:
        raise NoCameraError(_("There is no Chromium here. On Debian: apt-get install chromium"))
    return program


def chromium() -> str | None:
    """Give the path of the first Chromium that there is."""
    return next(filter(None, map(shutil.which, PROGRAMS)), None)


def take(program: str, sign_in: str, sights: list[Sight], folder: Path) -> list[Path]:
    """Sign in by the link, then take each sight into the folder; give the files."""
    from playwright.sync_api import sync_playwright  # noqa: PLC0415

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        page = browser.new_context(locale="en-GB", reduced_motion="reduce").new_page()
        page.goto(sign_in)
        page.get_by_role("button").first.click()
        page.wait_for_load_state()
        taken = [_take(page, sight, folder) for sight in sights]
        browser.close()
    return taken


def _take(page: Page, sight: Sight, folder: Path) -> Path:
    origin = "/".join(page.url.split("/")[:3])
    page.context.add_cookies([{"name": "look", "value": sight.look, "url": origin}])
    page.set_viewport_size({"width": sight.width, "height": sight.width})
    if sight.at is not None:
        page.clock.set_fixed_time(sight.at)
    page.goto(origin + sight.address)
    last = page.locator(sight.down_to).filter(visible=True).first.bounding_box()
    if last is None:
        raise ValueError(f"{sight.address} shows no {sight.down_to}")
    height = round(last["y"] + last["height"]) + ROOM_BELOW_PX
    page.set_viewport_size({"width": sight.width, "height": height})
    path = folder / f"{sight.name}.png"
    path.write_bytes(small(page.screenshot()))
    return path


def small(picture: bytes) -> bytes:
    """Give the PNG with as many colours as fit into `MOST_BYTES`; errors: `ValueError`."""
    from PIL import Image  # noqa: PLC0415

    whole = Image.open(io.BytesIO(picture)).convert("RGB")
    # Flat colours keep their own exactly; what is rare takes the nearest of them.
    counted: Any = whole.getcolors(whole.width * whole.height)  # (count, (R, G, B))
    common = [colour for _count, colour in sorted(counted, reverse=True)]
    for colours in COLOURS:
        palette = Image.new("P", (1, 1))
        palette.putpalette([channel for colour in common[:colours] for channel in colour])
        made = io.BytesIO()
        whole.quantize(palette=palette, dither=Image.Dither.NONE).save(made, "PNG", optimize=True)
        if made.tell() <= MOST_BYTES:
            return made.getvalue()
    raise ValueError(f"{whole.width} × {whole.height} px do not fit into {MOST_BYTES} bytes")
