"""A club in a database of its own, with real processes around it, for tests that kill.

Run as a module it fills the database that the environment names: `python -m tests.trips.stage 8`,
with targets of which the season wants to know when they stand right: `… 8 planet:jupiter`.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import psutil

from tests.trips.tables import NAME, lay_tables

ROOT = Path(__file__).resolve().parents[2]
FIRST, LAST = date(2027, 1, 1), date(2029, 12, 31)
NIGHTS_A_SITE = (LAST - FIRST).days + 1
LEASE_SECONDS = 3


@dataclass(frozen=True, slots=True)
class Stage:
    """The environment that all processes of one test share."""

    folder: Path
    settings: dict[str, str]

    def __post_init__(self) -> None:
        """Have a SQLite database with tables from the start; another one is the test's affair."""
        if "DATABASE_URL" not in self.settings and not (self.folder / NAME).exists():
            lay_tables(self.folder)

    @property
    def environment(self) -> dict[str, str]:
        kept = {key: value for key, value in os.environ.items() if key != "DATABASE_URL"}
        own = {
            "DJANGO_SETTINGS_MODULE": "shared.settings",
            "FIELDNIGHTS_DATA": str(self.folder),
            "FIELDNIGHTS_LEASE_SECONDS": str(LEASE_SECONDS),
        }
        return kept | own | self.settings

    def run(self, *arguments: str) -> str:
        """Run Python with these arguments to its end and give what it printed."""
        done = subprocess.run(
            [sys.executable, *arguments],
            cwd=ROOT,
            env=self.environment,
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    @contextmanager
    def worker(self, pool: str) -> Iterator[psutil.Process]:
        """Run the worker as the README has it, and leave nothing of it behind."""
        arguments = ["-A", "shared", "worker", "-B", "-P", pool, "-c", "2", "-l", "INFO"]
        with (self.folder / "worker.log").open("ab") as log:
            process = subprocess.Popen(
                [sys.executable, "-m", "celery", *arguments],
                cwd=ROOT,
                env=self.environment,
                stdout=log,
                stderr=subprocess.STDOUT,
            )
        try:
            yield psutil.Process(process.pid)
        finally:
            kill(psutil.Process(process.pid))
            process.wait()

    def letters(self) -> Counter[str]:
        """Count by reader what was handed over where no mail server is named."""
        written = [path.read_text("utf-8") for path in (self.folder / "mail").glob("*.log")]
        return Counter(to for text in written for to in re.findall(r"^To: (.+)$", text, re.M))

    def log(self) -> str:
        return (self.folder / "worker.log").read_text("utf-8", "replace")


def kill(process: psutil.Process) -> None:
    """SIGKILL the process and all that it started, giving none of them a last word."""
    family = [process, *process.children(recursive=True)]
    for member in family:
        member.kill()
    psutil.wait_procs(family[1:], timeout=10)


def wait_until(holds: Callable[[], bool], stage: Stage, *, seconds: float = 90) -> None:
    until = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < until, f"not within {seconds} s; the worker said:\n{stage.log()}"
        time.sleep(0.01)


def _fill(sites: int, targets: list[str]) -> None:
    organisation = Organisation.objects.create(name="Club")
    season = Season(
        organisation=organisation, name="Three years", first_night=FIRST, last_night=LAST
    )
    if targets:
        season.target_list = TargetList(organisation=organisation, name="Wanted")
        entries = [TargetEntry(target=target) for target in targets]
        save_list(season.target_list, entries, by=None, now=timezone.now())
    places = [
        Site(organisation=organisation, name=f"Hill {n}", latitude=40 + n / 10, longitude=-1.0)
        for n in range(sites)
    ]
    for place in places:
        save_site(place, by=None, now=timezone.now())
    save_season(season, places, by=None, now=timezone.now())


if __name__ == "__main__":
    import django

    django.setup()  # before the models can be imported, in this process of its own

    from django.utils import timezone

    from trips.models import Organisation, Season, Site, TargetEntry, TargetList
    from trips.services.seasons import save_season
    from trips.services.sites import save_site
    from trips.services.target_lists import save_list

    _fill(int(sys.argv[1]), sys.argv[2:])
