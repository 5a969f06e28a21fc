"""What others wrote and we carry: listed with version, sum and licence, and nothing else."""

from __future__ import annotations

import json
import re
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from django.contrib.staticfiles import finders
from django.core.management import call_command
from pytest_django import Settings

ROOT = Path(__file__).resolve().parents[2]
SERVED = ROOT / "trips/static/vendor"
FOR_TESTS = ROOT / "tests/browser/axe"
FOLDERS = [SERVED, FOR_TESTS]
MANIFEST = "whitenoise.storage.CompressedManifestStaticFilesStorage"


def listed(folder: Path) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = json.loads((folder / "vendored.json").read_text("utf-8"))
    return rows


ROWS = [
    pytest.param(folder, row, id=row["name"]) for folder in FOLDERS for row in listed(folder)
]  # (folder, row of its list)


@pytest.mark.parametrize(("folder", "row"), ROWS)
def test_a_vendored_file_is_the_one_that_was_listed(folder: Path, row: dict[str, Any]) -> None:
    assert sha256((folder / row["file"]).read_bytes()).hexdigest() == row["sha256"]


@pytest.mark.parametrize(("folder", "row"), ROWS)
def test_a_vendored_file_says_its_version_origin_and_licence(
    folder: Path, row: dict[str, Any]
) -> None:
    assert all(row[key] for key in ("name", "version", "from", "licence", "changed"))
    assert row["licence_files"]
    for name in row["licence_files"]:
        assert len((folder / name).read_text("utf-8")) > 500, name


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_nothing_lies_there_that_is_not_listed(folder: Path) -> None:
    lies = {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}
    known = {"vendored.json"}
    for row in listed(folder):
        known |= {row["file"], *row["licence_files"]}
    assert lies == known


@pytest.mark.parametrize(("folder", "row"), ROWS)
def test_no_vendored_file_points_at_a_source_map(folder: Path, row: dict[str, Any]) -> None:
    assert b"sourceMappingURL" not in (folder / row["file"]).read_bytes()


def test_no_served_style_fetches_anything() -> None:
    for path in SERVED.rglob("*.css"):
        style = path.read_text("utf-8")
        assert "@import" not in style
        addresses = [found.strip("\"' ") for found in re.findall(r"url\(([^)]*)", style)]
        assert [found for found in addresses if not found.startswith("data:")] == [], path


def test_no_served_script_names_another_host() -> None:
    for path in SERVED.rglob("*.js"):
        assert re.findall(r"https?://[^\"'\s)]+", path.read_text("utf-8")) == [], path


@pytest.mark.parametrize("row", listed(SERVED), ids=lambda row: row["name"])
def test_a_served_file_is_found_by_its_address(row: dict[str, Any]) -> None:
    assert finders.find(f"vendor/{row['file']}") == str(SERVED / row["file"])


def test_the_files_can_be_collected_as_a_club_collects_them(
    settings: Settings, tmp_path: Path
) -> None:
    settings.STATIC_ROOT = tmp_path
    settings.STORAGES = {**settings.STORAGES, "staticfiles": {"BACKEND": MANIFEST}}
    call_command("collectstatic", interactive=False, verbosity=0)
    names = json.loads((tmp_path / "staticfiles.json").read_text("utf-8"))["paths"]
    for row in listed(SERVED):
        assert (tmp_path / names[f"vendor/{row['file']}"]).exists()
