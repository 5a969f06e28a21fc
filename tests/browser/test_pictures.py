"""The README's pictures can be taken anew."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

from demo.photographing import MOST_BYTES
from tests.trips.stage import Stage


def test_the_command_takes_the_pictures_of_a_new_demo_club(chromium: str, tmp_path: Path) -> None:
    stage = Stage(tmp_path / "data", {"DJANGO_SETTINGS_MODULE": "shared.settings.demo"})
    stage.run("manage.py", "pictures", "--folder", str(tmp_path / "taken"))
    taken = {path.name: path for path in (tmp_path / "taken").iterdir()}
    assert set(taken) == {"season.png", "night.png", "brief.png"}
    for path in taken.values():
        assert path.stat().st_size <= MOST_BYTES
        with Image.open(path) as picture:
            assert picture.height > 600
