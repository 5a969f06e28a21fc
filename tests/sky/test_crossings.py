"""The search for crossings, tried on functions whose crossings are known without a search."""

import numpy as np
import pytest

from sky.crossings import MARGIN, Crossings, find_crossings, find_extrema

INSTANTS = np.arange(200.0)


def crossings_of(*rows: np.ndarray, level: float = 0.0) -> Crossings:
    samples = np.array(rows)
    return find_crossings(samples, np.full(len(rows), level))


def test_a_sine_crosses_where_it_should() -> None:
    found = crossings_of(np.sin(2 * np.pi * (INSTANTS - 3.3) / 24))
    expected = 3.3 + 12 * np.arange(0, 17)
    assert found.row(0) == pytest.approx(expected[(expected > 2) & (expected < 197)], abs=1e-6)


def test_a_function_that_never_reaches_the_level_does_not_cross() -> None:
    found = crossings_of(np.sin(INSTANTS), level=1.5)
    assert len(found.at) == 0
    assert not found.starts_above[0]


def test_two_crossings_between_two_samples_are_found() -> None:
    peak = 1 - ((INSTANTS - 100.45) / 24) ** 2
    level = 1 - (0.3 / 24) ** 2
    assert crossings_of(peak, level=level).row(0) == pytest.approx([100.15, 100.75], abs=1e-6)


def test_an_extremum_that_stays_short_of_the_level_does_not_cross() -> None:
    peak = 1 - ((INSTANTS - 100.45) / 24) ** 2
    assert len(crossings_of(peak, level=1 + 1e-9).at) == 0


def test_rows_keep_to_themselves() -> None:
    rising, falling, level = INSTANTS - 50.25, 60.75 - INSTANTS, INSTANTS * 0 - 1
    found = crossings_of(rising, level, falling)
    assert found.row(0) == pytest.approx([50.25])
    assert len(found.row(1)) == 0
    assert found.row(2) == pytest.approx([60.75])
    assert found.starts_above.tolist() == [False, False, True]


def test_hidden_and_plain_crossings_stand_in_order() -> None:
    wave = np.cos(2 * np.pi * (INSTANTS - 12.4) / 24)
    growing = wave + (INSTANTS - 100) * 1e-4
    at = crossings_of(growing, level=0.9995).row(0)
    assert len(at) % 2 == 0
    assert np.all(np.diff(at) > 0)


def test_a_step_is_crossed_inside_its_own_bracket() -> None:
    step = np.where(INSTANTS < 77.5, -1.0, 1.0)
    assert 77 <= crossings_of(step).row(0)[0] <= 78


def test_a_crossing_so_slow_that_a_free_step_would_leave_stays_inside() -> None:
    flat = ((INSTANTS - 90.5) / 10) ** 3
    assert crossings_of(flat).row(0) == pytest.approx([90.5], abs=1e-3)


def test_crossings_in_the_margins_are_not_sought() -> None:
    assert len(crossings_of(INSTANTS - 0.5).at) == 0


def test_extrema_are_found_away_from_the_margins() -> None:
    wave = np.cos(2 * np.pi * INSTANTS / 24)[None, :]
    found = find_extrema(wave)
    assert found.columns.tolist() == list(range(12, 200 - MARGIN, 12))
