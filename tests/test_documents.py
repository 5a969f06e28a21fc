"""The documents say what the tree holds."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.core.management import get_commands

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
ON_EVERY_CORE = "-n auto --dist loadgroup --no-loadscope-reorder"
INSTALL = "python3 -m venv .venv && .venv/bin/pip install -c .ci/constraints.txt -e "


@pytest.mark.parametrize(
    "command",
    [
        INSTALL + ". && .venv/bin/python manage.py demo",
        INSTALL + "'.[dev]' && .venv/bin/python -m pytest " + ON_EVERY_CORE,
    ],
)
def test_the_readme_gives_each_command_on_a_line_of_its_own(command: str) -> None:
    assert command in README.splitlines()


def test_the_readme_names_every_setting_that_is_read_from_the_environment() -> None:
    read = (ROOT / "shared/settings/environment.py").read_text("utf-8")
    names = set(re.findall(r'"(FIELDNIGHTS_\w+|DATABASE_URL)"', read))
    assert len(names) > 4
    assert {name for name in names if f"`{name}`" not in README} == set()


def test_the_readme_names_every_command_of_the_project() -> None:
    ours = {name for name, app in get_commands().items() if app in ("trips", "demo")}
    assert ours
    assert {name for name in ours if f"manage.py {name}" not in README} == set()


def test_the_readme_names_no_command_that_is_not_there() -> None:
    named = set(re.findall(r"manage\.py (\w+)", README))
    assert named <= set(get_commands())


def test_the_map_names_every_module_of_sky() -> None:
    modules = {path.name for path in (ROOT / "sky").glob("*.py")} - {"__init__.py"}
    assert {name for name in modules if f"\n  {name} " not in DEVELOPERS} == set()


def test_the_map_names_no_module_of_sky_that_is_not_there() -> None:
    in_map = DEVELOPERS.split("trips/             the Django app")[0]
    named = set(re.findall(r"\n  (\w+\.py) ", in_map))
    assert {name for name in named if not (ROOT / "sky" / name).exists()} == set()


def test_the_map_names_every_folder_of_the_app() -> None:
    folders = {path.name for path in (ROOT / "trips").iterdir() if path.is_dir()}
    shown = folders - {"__pycache__", "migrations", "static"}
    assert {name for name in shown if f"{name}/" not in DEVELOPERS} == set()


def test_the_top_of_the_house_is_as_it_was_laid_out() -> None:
    listed = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    laid_out = {"README.md", "DEVELOPERS.md", "manage.py", "pyproject.toml"}
    laid_out |= {"trips", "sky", "templates", "tests", "demo", "shared"}
    assert listed - {"fieldnights.egg-info"} == laid_out
