"""Close pairs against Skyfield: where the least separation lies, and how great it is."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from skyfield.api import Star

from sky.close_pairs import STARS, Pair, close_approaches, limit_of, separations_at, spans_below
from sky.ephemeris import timescale
from sky.spans import Span
from tests.against import skyfield_search as referee
from tests.against.random_places import random_place_years

Floats = NDArray[np.float64]
# The kernel has the outer planets' systems only, whose centres are the planets' to 0.2″.
THEIRS = {"mars": "mars", "jupiter": "jupiter barycenter", "saturn": "saturn barycenter"}
HOURS = tuple(timedelta(hours=hour) for hour in range(-36, 37))


def member(kernel: Any, name: str) -> Any:
    if name in STARS:
        return Star(ra_hours=STARS[name].ra_degrees / 15, dec_degrees=STARS[name].dec_degrees)
    return kernel[THEIRS.get(name, name)]


def apart(seen_from: Any, pair: Pair, kernel: Any) -> Floats:
    one, other = (seen_from.observe(member(kernel, name)).apparent() for name in pair)
    return np.asarray(one.separation_from(other).degrees)


def test_a_year_of_pairs_comes_nearest_when_skyfield_says() -> None:
    found = close_approaches(date(2027, 1, 1), date(2027, 12, 31))
    assert len(found) > 50
    with referee.kernel() as kernel:
        for one in found:
            around = [one.instant + hours for hours in HOURS]
            seen_from = kernel["earth"].at(timescale().from_datetimes(around))
            theirs = apart(seen_from, one.pair, kernel)
            at_ours = theirs[HOURS.index(timedelta(0))]
            assert one.separation_degrees == pytest.approx(at_ours, abs=0.001), one
            # No hour around it is nearer, by more than half an arcsecond.
            assert at_ours <= theirs.min() + 0.5 / 3600, one


@pytest.mark.parametrize("pair", [("venus", "mars"), ("mars", "spica"), ("moon", "jupiter")])
def test_nothing_is_missed_in_a_year(pair: Pair) -> None:
    """Every six hours by Skyfield: below the limit where a span of ours is, and nowhere else."""
    first, last = date(2027, 1, 1), date(2027, 12, 31)
    spans = spans_below(pair, first, last, limit_of(pair))
    start = datetime(2027, 1, 1, tzinfo=UTC)
    every = [start + timedelta(hours=6 * step) for step in range(4 * 365)]
    with referee.kernel() as kernel:
        seen_from = kernel["earth"].at(timescale().from_datetimes(every))
        theirs = apart(seen_from, pair, kernel) < limit_of(pair)
    assert theirs.any()
    assert [inside(spans, instant) for instant in every] == theirs.tolist()


def inside(spans: tuple[Span, ...], instant: datetime) -> bool:
    return any(span.start <= instant < span.end for span in spans)


def test_the_parallax_of_a_place_is_that_of_skyfield() -> None:
    pair = ("moon", "antares")
    with referee.kernel() as kernel:
        for place, year in random_place_years(8, seed=11):
            instant = datetime(year, 6, 3, 4, tzinfo=UTC)
            seen_from = referee.observer(kernel, place).at(timescale().from_datetimes([instant]))
            ours = separations_at(pair, place, np.array([instant.timestamp()]))
            # Our places leave out the 0.3″ of the aberration of an observer who turns along.
            assert ours == pytest.approx(apart(seen_from, pair, kernel), abs=0.001)
