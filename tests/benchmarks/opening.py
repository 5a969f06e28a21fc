"""Two hundred people who open their brief at the same instant: how long each waits.

python -m tests.benchmarks.opening [--tenth]

A real server of two workers; connections that are open already press together, again and again.
"""

from __future__ import annotations

import http.client
import json
import tempfile
from pathlib import Path

from tests.benchmarks.joining import Press, answered, served, together, told
from tests.benchmarks.measuring import hold, is_tenth
from tests.trips.stage import Stage

PEOPLE, ROUNDS = 200, 10
MOST_MS = 500


def main() -> None:
    tenth = is_tenth(__doc__)
    people, rounds = (PEOPLE // 10, 3) if tenth else (PEOPLE, ROUNDS)
    with tempfile.TemporaryDirectory(prefix="fieldnights-opening-") as folder:
        stage = Stage(Path(folder), {})
        stage.run("manage.py", "collectstatic", "--no-input", "--verbosity", "0")
        pages = json.loads(stage.run("-m", "tests.trips.brief_crowd", "gather", str(people)))
        with served(stage) as port:
            opens = reads(pages)
            told("warm", together(port, opens, rounds=1, people=people), {200})
            seen = together(port, opens, rounds=rounds, people=people)
            hold(told("open a brief", seen, {200}), MOST_MS)


def reads(pages: list[str]) -> Press:
    def press(connection: http.client.HTTPConnection, person: int) -> int:
        return answered(connection, "GET", pages[person])

    return press


if __name__ == "__main__":
    main()
