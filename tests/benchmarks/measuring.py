"""What the benchmarks share: the size asked for, and a stopwatch."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable

TENTH = "--tenth"


def is_tenth(description: str | None) -> bool:
    """Read the command line: whether a tenth of the size is wanted."""
    parser = argparse.ArgumentParser(
        description=description, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument(TENTH, action="store_true", help="a tenth of the size")
    return bool(parser.parse_args().tenth)


def seconds(deed: Callable[[], object]) -> float:
    start = time.perf_counter()
    deed()
    return time.perf_counter() - start


def best_ms(deed: Callable[[], object], times: int) -> float:
    """Give the processor's milliseconds, the best of many: a busy machine is nobody's fault."""

    def once() -> float:
        start = time.process_time()
        deed()
        return (time.process_time() - start) * 1000

    return min(once() for _ in range(times))


def hold(spent: float, most: float, unit: str = "ms") -> None:
    """Hold a time to the figure promised; at a tenth of the size, on any machine, only say it."""
    if spent <= most:
        return
    words = f"{spent:.1f} {unit} are more than the {most:g} promised"
    assert TENTH in sys.argv, words
    print(f"  here {words}")
