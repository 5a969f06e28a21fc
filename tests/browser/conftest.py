"""Real pages in a real browser: Debian's Chromium, driven by Playwright.

Run them alone:        .venv/bin/python -m pytest tests/browser
Look at what they saw: the folder of screenshots is printed at the end, but by several processes;
                       FIELDNIGHTS_SCREENSHOTS names another. A file is called PAGE-LOOK-SIZE.png.

serving.py starts the server with the club (club.py) on a fixed day (clock.py); pages.py lists the
pages; seeing.py opens them in a look and a size; guard.py refuses what no page may do. The
browser's event loop makes Django refuse its rows in this process, so these tests run last.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from demo import photographing
from tests.browser.pictures import Album
from tests.browser.seeing import Visit, Windows
from tests.browser.serving import Served, serve_club

HERE = Path(__file__).parent
ALBUM = pytest.StashKey[Path]()


# Two processes open the pages, each with a server and a browser of its own: about half of the work
# is in these files.
FIRST_HALF = {"test_looks.py", "test_keyboard.py", "test_season.py", "test_readout.py"}


def pytest_itemcollected(item: pytest.Item) -> None:
    item.add_marker(pytest.mark.browser)
    half = "looks" if item.path.name in FIRST_HALF else "pages"
    item.add_marker(pytest.mark.xdist_group(f"browser-{half}"))


@pytest.hookimpl(trylast=True)  # after the shuffle
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    ours = [item for item in items if HERE in item.path.parents]
    items[:] = [item for item in items if HERE not in item.path.parents] + ours


@pytest.fixture(scope="session")
def chromium() -> str:
    """Give the program, or skip: .ci/run installs it and lets nothing skip."""
    program = photographing.chromium()
    if program is None:
        pytest.skip("there is no `chromium` on this machine (Debian: apt-get install chromium)")
    return program


@pytest.fixture(scope="session")
def browser_type_launch_args(chromium: str) -> dict[str, Any]:
    return {"executable_path": chromium, "args": ["--no-sandbox"]}


@pytest.fixture(scope="session")
def served(chromium: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serve_club(tmp_path_factory.mktemp("club")) as club:
        yield club


@pytest.fixture(scope="session")
def windows(browser: Browser, served: Served) -> Iterator[Windows]:
    opened = Windows(browser, served)
    yield opened
    opened.close()


@pytest.fixture
def visit(windows: Windows, served: Served) -> Iterator[Visit]:
    """Open pages under guard; what a page may not do fails the test."""
    opened = Visit(windows)
    yield opened
    breaches = opened.end()
    assert not breaches, "\n".join([*breaches, served.log()[-800:]])


@pytest.fixture(scope="session")
def album(pytestconfig: pytest.Config, tmp_path_factory: pytest.TempPathFactory) -> Album:
    named = os.environ.get("FIELDNIGHTS_SCREENSHOTS")
    folder = Path(named) if named else tmp_path_factory.mktemp("screenshots")
    folder.mkdir(parents=True, exist_ok=True)
    pytestconfig.stash[ALBUM] = folder
    return Album(folder)


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    if ALBUM in config.stash:
        terminalreporter.write_line(f"Screenshots: {config.stash[ALBUM]}")
