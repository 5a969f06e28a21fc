"""Run every benchmark, each in a process of its own.

python -m tests.benchmarks.run [--tenth]

At a tenth of the size milliseconds are only told: one runs on each core then.
"""

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

BENCHMARKS = (
    "accuracy",
    "events",
    "comparison",
    "ranking",
    "site_year",
    "sky_events",
    "alignments",
    "lit_then_dark",
    "windows",
    "chart",
    "dome",
    "brief_pictures",
    "briefs",
    "frame",
    "skyline",
    "skyglow",
    "brightness",
    "light_elsewhere",
    "ten_cases",
    "night_targets",
    "page_weight",
    "trip_board",
    "my_gear",
    "load",
    "joining",
    "opening",
)


def run(name: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", f"tests.benchmarks.{name}", *sys.argv[1:]]
    return subprocess.run(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False
    )


def main() -> None:
    at_once = os.cpu_count() if "--tenth" in sys.argv else 1
    failed = []
    with ThreadPoolExecutor(at_once) as pool:
        for name, done in zip(BENCHMARKS, pool.map(run, BENCHMARKS), strict=True):
            print(f"\n-- {name}\n{done.stdout}", end="", flush=True)
            failed += [name] if done.returncode else []
    if failed:
        sys.exit(f"not held: {', '.join(failed)}")


if __name__ == "__main__":
    main()
