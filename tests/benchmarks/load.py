"""A real server under load: season pages a second from granian on this machine, and errors.

python -m tests.benchmarks.load [--tenth]

The club of the browser tests is served by two workers of one thread each; a few readers ask for
the page of a year, of one site and of three, as fast as they are answered, for a bounded time.
"""

from __future__ import annotations

import http.client
import tempfile
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median, quantiles

from tests.benchmarks.measuring import is_tenth
from tests.browser.serving import Served, serve_club

WORKERS, READERS = 2, 4
SECONDS, SECONDS_OF_TENTH = 20.0, 3.0
LEAST_PAGES_A_SECOND = 20


@dataclass(slots=True)
class Tally:
    """What one reader saw."""

    taken: list[float] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)


def main() -> None:
    tenth = is_tenth(__doc__)
    lasting = SECONDS_OF_TENTH if tenth else SECONDS
    with (
        tempfile.TemporaryDirectory(prefix="fieldnights-load-") as folder,
        serve_club(Path(folder), workers=WORKERS) as served,
    ):
        read(served, "one site", seconds=4)  # each worker reads templates and the tables of the sky
        rate = told("one site", read(served, "one site", seconds=lasting), lasting)
        told("three sites", read(served, "whole", seconds=lasting), lasting)
    assert tenth or rate >= LEAST_PAGES_A_SECOND


def told(name: str, tallies: list[Tally], lasting: float) -> float:
    """Print what the readers saw, refuse errors, and give the pages a second."""
    taken = [one for tally in tallies for one in tally.taken]
    errors = [one for tally in tallies for one in tally.errors]
    rate = len(taken) / lasting
    slowest = quantiles(taken, n=20)[-1] if len(taken) > 1 else 0.0
    print(
        f"{name}: {len(taken)} season pages in {lasting:.0f} s: {rate:.0f} a second, "
        f"{len(errors)} errors, "
        f"half within {median(taken) * 1e3:.0f} ms, 95 % within {slowest * 1e3:.0f} ms"
    )
    assert not errors, errors[:3]
    assert taken
    return rate


def read(served: Served, season: str, *, seconds: float) -> list[Tally]:
    """Let every reader ask until the time is over; give what each saw."""
    until = time.perf_counter() + seconds
    tallies = [Tally() for _ in range(READERS)]
    readers = [
        threading.Thread(target=_read, args=(served, season, until, tally), daemon=True)
        for tally in tallies
    ]
    for reader in readers:
        reader.start()
    for reader in readers:
        reader.join(seconds + 30)
    return tallies


def _read(served: Served, season: str, until: float, tally: Tally) -> None:
    address = f"/seasons/{served.facts['seasons'][season]}/"
    cookies = {"Cookie": f"sessionid={served.session('coordinator')}; look=paper"}
    connection = http.client.HTTPConnection(served.origin.removeprefix("http://"), timeout=20)
    try:
        while time.perf_counter() < until:
            start = time.perf_counter()
            connection.request("GET", address, headers=cookies)
            answer = connection.getresponse()
            page = answer.read()
            if answer.status == 200 and page.rstrip().endswith(b"</html>"):
                tally.taken.append(time.perf_counter() - start)
            else:
                tally.errors.append(f"answered {answer.status}, {len(page)} bytes")
    except (OSError, http.client.HTTPException) as error:
        tally.errors.append(f"{type(error).__name__}: {error}")
    finally:
        connection.close()


if __name__ == "__main__":
    main()
