"""Run every benchmark, each in a process of its own.

python -m tests.benchmarks.run [--tenth]
"""

import subprocess
import sys

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


def main() -> None:
    for name in BENCHMARKS:
        print(f"\n-- {name}", flush=True)
        subprocess.run(
            [sys.executable, "-m", f"tests.benchmarks.{name}", *sys.argv[1:]], check=True
        )


if __name__ == "__main__":
    main()
