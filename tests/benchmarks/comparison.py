"""Comparing 100, 1 000 and 10 000 places over a year: seconds, and memory summed over processes.

python -m tests.benchmarks.comparison [--tenth]
"""

from __future__ import annotations

import csv
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
import psutil

from tests.benchmarks.measuring import is_tenth

MOST_MEGABYTES = 600
ROOT = Path(__file__).parents[2]


def write_places(path: Path, count: int) -> None:
    rng = np.random.default_rng(3)
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["name", "latitude", "longitude", "elevation_m", "zone"])
        for n in range(count):
            latitude, longitude = rng.uniform(-60, 60), rng.uniform(-180, 180)
            writer.writerow([f"Place {n}", f"{latitude:.4f}", f"{longitude:.4f}", 500, "UTC"])


def megabytes(process: psutil.Process) -> float:
    """Sum what the process and its children hold now."""
    held = 0
    for each in [process, *process.children(recursive=True)]:
        try:
            held += each.memory_info().rss
        except psutil.NoSuchProcess:
            continue
    return held / 1e6


def compared(path: Path) -> tuple[float, float, int]:
    """Give seconds, peak megabytes and lines of a comparison."""
    season = ["--start", "2027-01-01", "--end", "2027-12-31", "--format", "csv"]
    command = [sys.executable, "manage.py", "compare", "--sites", str(path), *season]
    start, peak = time.perf_counter(), 0.0
    with tempfile.TemporaryFile("w+") as output:
        child = subprocess.Popen(command, cwd=ROOT, stdout=output, stderr=subprocess.DEVNULL)
        watched = psutil.Process(child.pid)
        while child.poll() is None:
            try:
                peak = max(peak, megabytes(watched))
            except psutil.NoSuchProcess:
                break
            time.sleep(0.05)
        assert child.wait() == 0
        output.seek(0)
        lines = sum(1 for _ in output)
    return time.perf_counter() - start, peak, lines


def main() -> None:
    counts = (10, 100, 1000) if is_tenth(__doc__) else (100, 1000, 10_000)
    with tempfile.TemporaryDirectory() as folder:
        for count in counts:
            path = Path(folder) / "places.csv"
            write_places(path, count)
            seconds, peak, lines = compared(path)
            print(f"{count:6d} places: {seconds:6.1f} s, at most {peak:4.0f} MB")
            assert lines == count + 1
            assert peak <= MOST_MEGABYTES


if __name__ == "__main__":
    main()
