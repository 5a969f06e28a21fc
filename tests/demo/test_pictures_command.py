"""`manage.py pictures` says what it lacks; and a picture is made small without losing its sky."""

from __future__ import annotations

import importlib.util
import io
import shutil

import pytest
from django.core.management import CommandError, call_command
from PIL import Image, ImageDraw

from demo.photographing import MOST_BYTES, small


def test_without_chromium_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda _program: None)
    with pytest.raises(CommandError, match="apt-get install chromium"):
        call_command("pictures")


@pytest.mark.parametrize("package", ["playwright", "PIL"])
def test_without_the_development_installation_it_names_what_is_missing(
    package: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: None if name == package else found(name)
    )
    with pytest.raises(CommandError, match=f"“{package}” is not installed"):
        call_command("pictures")


def test_a_picture_keeps_a_thin_band_of_its_own_colour() -> None:
    page = Image.new("RGB", (640, 480), "#faf7f0")
    pen = ImageDraw.Draw(page)
    for n in range(480):  # text and its soft edges: many greys
        pen.line([(0, n), (320, n)], fill=(n // 2, n // 2, n // 2))
    pen.rectangle([400, 200, 600, 202], fill="#cfd4e2")
    before = io.BytesIO()
    page.save(before, "PNG")
    after = Image.open(io.BytesIO(small(before.getvalue())))
    assert after.size == page.size
    red, green, blue = after.convert("RGB").getpixel((500, 201))  # type: ignore[misc]
    assert abs(red - 0xCF) + abs(green - 0xD4) + abs(blue - 0xE2) < 12


def test_a_picture_that_cannot_be_small_is_refused() -> None:
    noise = Image.effect_noise((700, 700), 200).convert("RGB")
    before = io.BytesIO()
    noise.save(before, "PNG")
    with pytest.raises(ValueError, match=str(MOST_BYTES)):
        small(before.getvalue())
