"""Fifty people at once on the way in to a trip: how long each waits for the page, and to be asked.

python -m tests.benchmarks.joining [--tenth]

A real server of two workers; fifty connections that are open already press at the same instant,
again and again. The reading page is held to its figure; what writes is said.
"""

from __future__ import annotations

import http.client
import json
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from statistics import median, quantiles
from urllib.parse import urlencode

import psutil

from tests.benchmarks.measuring import hold, is_tenth
from tests.trips.services_at_hand import free_port, wait_for_port
from tests.trips.stage import ROOT, Stage, kill

PEOPLE, WORKERS = 50, 2
ROUNDS, ROUNDS_OF_TENTH = 20, 3
MOST_MS = 300

# Presses once, as the person of that number, and gives the status.
Press = Callable[[http.client.HTTPConnection, int], int]


def main() -> None:
    rounds = ROUNDS_OF_TENTH if is_tenth(__doc__) else ROUNDS
    with tempfile.TemporaryDirectory(prefix="fieldnights-joining-") as folder:
        stage = Stage(Path(folder), {})
        stage.run("manage.py", "collectstatic", "--no-input", "--verbosity", "0")
        links = json.loads(stage.run("-m", "tests.trips.crowd", "gather", str(PEOPLE)))
        page = f"/j/{links['invitation']}/"
        with served(stage) as port:
            told("warm", together(port, reads(page), rounds=1), {200})
            hold(told("read the page", together(port, reads(page), rounds=rounds), {200}), MOST_MS)
            told("ask for a place", together(port, asks(page), rounds=1), {302})
            told("confirm", together(port, confirms(links["own"]), rounds=1), {302})


class served:  # noqa: N801  # used like a function
    """The pages as a club serves them, on a free port."""

    def __init__(self, stage: Stage) -> None:
        self.stage, self.port = stage, free_port()

    def __enter__(self) -> int:
        options = ["--interface", "wsgi", "--port", str(self.port), "--workers", str(WORKERS)]
        self.process = subprocess.Popen(
            [sys.executable, "-m", "granian", *options, "--blocking-threads", "1",
             "shared.wsgi:application"],
            cwd=ROOT, env=self.stage.environment, stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )  # fmt: skip
        wait_for_port(self.port)
        return self.port

    def __exit__(self, *_error: object) -> None:
        kill(psutil.Process(self.process.pid))
        self.process.wait()


def reads(page: str) -> Press:
    return lambda connection, _person: answered(connection, "GET", page)


def asks(page: str) -> Press:
    def press(connection: http.client.HTTPConnection, person: int) -> int:
        typed = {"name": f"Person {person}", "mail": f"person{person}@example.org"}
        return answered(connection, "POST", page, urlencode(typed))

    return press


def confirms(own: list[str]) -> Press:
    def press(connection: http.client.HTTPConnection, person: int) -> int:
        return answered(connection, "POST", f"/b/{own[person]}/confirm/", "")

    return press


def answered(
    connection: http.client.HTTPConnection, method: str, address: str, body: str | None = None
) -> int:
    connection.request(method, address, body, {"Content-Type": "application/x-www-form-urlencoded"})
    answer = connection.getresponse()
    answer.read()
    return answer.status


def together(
    port: int, press: Press, *, rounds: int, people: int = PEOPLE
) -> list[tuple[int, float]]:
    """Let everybody press at the same instant in each round; give statuses and milliseconds."""
    ready = threading.Barrier(people)

    def one(person: int) -> list[tuple[int, float]]:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        connection.connect()
        seen = []
        for _round in range(rounds):
            ready.wait(60)
            start = time.perf_counter()
            status = press(connection, person)
            seen.append((status, (time.perf_counter() - start) * 1000))
        connection.close()
        return seen

    with ThreadPoolExecutor(people) as threads:
        return [each for seen in threads.map(one, range(people)) for each in seen]


def told(name: str, seen: list[tuple[int, float]], wanted: set[int]) -> float:
    """Print how long it took, refuse any other answer, and give what 95 of 100 stayed under."""
    took = [spent for _status, spent in seen]
    slowest = quantiles(took, n=20)[-1]
    print(f"{name}: {len(took)} pressed together, half within {median(took):.0f} ms, "
          f"95 % within {slowest:.0f} ms, all within {max(took):.0f} ms")  # fmt: skip
    assert {status for status, _spent in seen} <= wanted, {status for status, _ in seen}
    return slowest


if __name__ == "__main__":
    main()
