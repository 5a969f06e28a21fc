"""A target's strip: its bar lies where it stands right, the tick at its best, over the night."""

from __future__ import annotations

import re
from typing import Any

from tests.trips.lines import make_bands
from trips.charts.strip import night_strip
from trips.charts.target_strip import target_strip

WINDOW = (480.0, 1140.0)


def drawn(best: float = 700.0, **bands: Any) -> dict[str, str]:
    """Give the data of each path by its class; a unit a minute, from the start."""
    strip = target_strip(make_bands(**bands), best, WINDOW, width=66, height=16)
    return dict(re.findall(r'<path class="([\w-]+)"[^>]* d="([^"]+)"', strip))


def test_the_bar_lies_at_its_minutes_and_leaves_the_bands_to_be_seen() -> None:
    paths = drawn(wanted=((690, 780),))
    assert paths["wanted"] == "M210 30H300V130H210z"
    assert paths["b-dark"] == "M210 0H420"


def test_two_windows_are_two_bars() -> None:
    assert drawn(wanted=((690, 720), (780, 800)))["wanted"] == (
        "M210 30H240V130H210zM300 30H320V130H300z"
    )


def test_the_tick_stands_at_the_best_and_is_higher_than_the_bar() -> None:
    assert drawn(700.0, wanted=((690, 780),))["best"] == "M210 0h20v160h-20z"


def test_what_lies_outside_the_window_is_not_drawn() -> None:
    paths = drawn(1300.0, wanted=((1200, 1400),))
    assert "wanted" not in paths
    assert "best" not in paths


def test_a_bar_is_cut_at_the_end_of_the_window() -> None:
    assert drawn(wanted=((400, 500),))["wanted"] == "M0 30H20V130H0z"


def test_the_usable_block_of_the_night_is_not_drawn() -> None:
    assert "usable" not in drawn(wanted=((690, 780),))
    assert 'class="usable"' in night_strip(make_bands(), *WINDOW, 66, 16)


def test_words_stand_beside_it() -> None:
    strip = target_strip(make_bands(), 700.0, WINDOW, width=66, height=16)
    assert 'aria-hidden="true"' in strip
    assert " width=" not in strip
