"""Many places compared over a season, in blocks and in several processes. Reads no rows."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, time
from multiprocessing import get_context

from sky.light.brightness import LocalSky
from sky.light.skyglow import glow_at
from sky.light.usable import DarkEnough, usable_overhead
from sky.night import DARK_LEVELS, SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.summary import Summary, summarise

# Places computed together: their arrays of a year fit in 40 MB.
BLOCK = 64
# What numpy's matrix products ask, once, for the number of their threads.
THREAD_LIMITS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of every place. Candidate nights: from civil dusk to `out_until`.

    `is_sky_asked`: usable dark too, which takes many times as long as all the rest.
    """

    first: date
    last: date
    dark_level: int = -18
    least_hours: float = 2.0
    out_until: time = time(2)
    is_sky_asked: bool = False


@dataclass(frozen=True, slots=True)
class PlaceFigures:
    """The season at one place.

    `usable_dark_hours` overhead, under the glow that towns are thought to cause; None where it was
    not asked for. `moonless_by_month` hours by (year, month), in order.
    `candidates_by_lighter_level` only where there are no candidates: what the levels less dark
    would give.
    """

    nights: int
    candidates: int
    dark_hours: float
    moonless_hours: float
    usable_dark_hours: float | None
    moonless_by_month: dict[tuple[int, int], float]
    longest_run: int
    candidates_by_lighter_level: dict[int, int]


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
    table = compute_season(places, question.first, question.last)
    found = _summary(table, question, question.dark_level)
    lighter = _lighter(table, question) if (found.candidates == 0).any() else {}
    return [
        PlaceFigures(
            nights=int(found.nights[n]),
            candidates=int(found.candidates[n]),
            dark_hours=float(found.dark_hours[n]),
            moonless_hours=float(found.moonless_hours[n]),
            usable_dark_hours=_usable_dark_hours(table, n) if question.is_sky_asked else None,
            moonless_by_month=dict(
                zip(found.months, found.moonless_by_month[n].tolist(), strict=True)
            ),
            longest_run=int(found.longest_run[n]),
            candidates_by_lighter_level={}
            if found.candidates[n]
            else {level: int(other.candidates[n]) for level, other in lighter.items()},
        )
        for n in range(len(places))
    ]


def _usable_dark_hours(table: SeasonTable, index: int) -> float:
    sky = LocalSky(towns_share=glow_at(table.places[index]).share)
    spans = usable_overhead(table, index, DarkEnough(sky))
    return float((spans[:, 1] - spans[:, 0]).sum()) / 3600


def _lighter(table: SeasonTable, question: Question) -> dict[int, Summary]:
    return {
        level: _summary(table, question, level)
        for level in DARK_LEVELS
        if level > question.dark_level
    }


def _summary(table: SeasonTable, question: Question, dark_level: int) -> Summary:
    return summarise(
        table,
        dark_level=dark_level,
        least_hours=question.least_hours,
        out_until=question.out_until,
    )
