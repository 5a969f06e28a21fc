"""A real server with the club behind it, in processes of its own.

So no test of this folder touches a row itself: Playwright keeps an event loop running in the
tests' process, in which Django refuses to.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

import psutil

from tests.trips.services_at_hand import free_port, wait_for_port
from tests.trips.stage import ROOT, Stage, kill

LONGEST_START_SECONDS = 60


@dataclass(frozen=True, slots=True)
class Served:
    """Where the club's pages are, and what tests/browser/club.py told of it."""

    origin: str
    facts: dict[str, Any]
    stage: Stage

    def session(self, person: str) -> str:
        return str(self.facts["sessions"][person])

    def log(self) -> str:
        return (self.stage.folder / "server.log").read_text("utf-8", "replace")

    def ask(self) -> int:
        """Ask for nights that are not there yet; give the number of the job."""
        return int(self.stage.run("-m", "tests.browser", "ask"))

    def work(self) -> None:
        """Do every job that waits, as a worker would."""
        self.stage.run("-m", "tests.browser", "work")


def _warm(served: Served) -> None:
    """Ask once, so that no page that is looked at waits for imports and for the catalogue."""
    page = f"{served.origin}/seasons/{served.facts['seasons']['whole']}/"
    asked = Request(page, headers={"Cookie": f"sessionid={served.session('coordinator')}"})
    urlopen(asked, timeout=LONGEST_START_SECONDS).close()


@contextmanager
def serve_club(folder: Path, *, workers: int = 1) -> Iterator[Served]:
    stage = Stage(folder, {})
    facts = json.loads(stage.run("-m", "tests.browser", "fill"))
    with serving(stage, free_port(), workers=workers) as origin:
        served = Served(origin, facts, stage)
        _warm(served)
        yield served


@contextmanager
def serving(stage: Stage, port: int, *, workers: int = 1) -> Iterator[str]:
    """Serve what is on a stage, and stop at the end; give where."""
    options = ["--interface", "wsgi", "--port", str(port)]
    options += ["--workers", str(workers), "--blocking-threads", "1"]
    with (stage.folder / "server.log").open("ab") as log:
        process = subprocess.Popen(
            [sys.executable, "-m", "granian", *options, "tests.browser.wsgi:application"],
            cwd=ROOT,
            env=stage.environment,
            stdout=log,
            stderr=subprocess.STDOUT,
        )
    try:
        wait_for_port(port)
        yield f"http://127.0.0.1:{port}"
    finally:
        kill(psutil.Process(process.pid))
        process.wait()
