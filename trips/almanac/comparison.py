"""Many places compared over a season, in blocks and in several processes. Reads no rows."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, time
from multiprocessing import get_context

from sky.nights import compute_season
from sky.place import Place
from sky.summary import summarise

# Places computed together: their arrays of a year fit in 40 MB.
BLOCK = 64
# What numpy's matrix products ask, once, for the number of their threads.
THREAD_LIMITS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of every place. Candidate nights: from civil dusk to `out_until`."""

    first: date
    last: date
    dark_level: int = -18
    least_hours: float = 2.0
    out_until: time = time(2)


@dataclass(frozen=True, slots=True)
class PlaceFigures:
    """The season at one place; `moonless_by_month` hours by (year, month), in order."""

    nights: int
    candidates: int
    dark_hours: float
    moonless_hours: float
    moonless_by_month: dict[tuple[int, int], float]
    longest_run: int


def compare_places(
    places: Sequence[Place], question: Question, *, processes: int = 2
) -> Iterator[list[PlaceFigures]]:
    """Give the figures of each block of places, in the order of the places."""
    blocks = [places[begin : begin + BLOCK] for begin in range(0, len(places), BLOCK)]
    if processes < 2 or len(blocks) < 2:
        for block in blocks:
            yield figures(block, question)
        return
    # Fresh processes: a fork would take the threads of numpy and of a server with it.
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        with _one_thread_each():
            found = pool.map(figures, blocks, [question] * len(blocks))
        yield from found


@contextmanager
def _one_thread_each() -> Iterator[None]:
    """Let processes started meanwhile use one thread each, or they fight over the cores."""
    before = {name: os.environ.get(name) for name in THREAD_LIMITS}
    os.environ.update(dict.fromkeys(THREAD_LIMITS, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def figures(places: Sequence[Place], question: Question) -> list[PlaceFigures]:
    """Compute and summarise one block of places."""
    found = summarise(
        compute_season(places, question.first, question.last),
        dark_level=question.dark_level,
        least_hours=question.least_hours,
        out_until=question.out_until,
    )
    return [
        PlaceFigures(
            nights=int(found.nights[n]),
            candidates=int(found.candidates[n]),
            dark_hours=float(found.dark_hours[n]),
            moonless_hours=float(found.moonless_hours[n]),
            moonless_by_month=dict(
                zip(found.months, found.moonless_by_month[n].tolist(), strict=True)
            ),
            longest_run=int(found.longest_run[n]),
        )
        for n in range(len(places))
    ]
