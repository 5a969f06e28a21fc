"""The night strip: its lines lie where the night's stretches are, and nowhere else."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from django.template import Context, Template

from tests.trips.lines import NO_NIGHT, make_bands
from trips.charts.bands import NightBands
from trips.charts.strip import night_strip, strip_hours, veil_opacity, whole_hours

NIGHT = make_bands()


def drawn(bands: NightBands, first: int = 480, last: int = 1140, **how: Any) -> dict[str, str]:
    """Give the data of each path by its class; a unit a minute, from the start."""
    strip = night_strip(bands, first, last, (last - first) / 10, 9, **how)
    return dict(re.findall(r'<path class="([\w-]+)"[^>]* d="([^"]+)"', strip))


def test_each_band_lies_at_its_minutes() -> None:
    assert drawn(NIGHT) == {
        "b-civil": "M60 0H600",
        "b-nautical": "M120 0H540",
        "b-astronomical": "M170 0H490",
        "b-dark": "M210 0H420",
        "veil": "M360 0H600",
        "usable": "M210-20H360V110H210z",
    }


def test_the_order_is_that_of_the_dusk_with_the_moon_over_it() -> None:
    assert list(drawn(NIGHT)) == [
        "b-civil", "b-nautical", "b-astronomical", "b-dark", "veil", "usable",
    ]  # fmt: skip


def test_nothing_is_drawn_outside_the_window() -> None:
    paths = drawn(NIGHT, 660, 780)
    assert paths["b-civil"] == "M0 0H120"
    assert paths["b-dark"] == "M30 0H120"
    assert "veil" not in paths


def test_the_outline_of_the_usable_block_passes_the_strip_above_and_below() -> None:
    # What passes is cut off: a gap stays at both ends only.
    assert drawn(NIGHT)["usable"] == "M210-20H360V110H210z"
    assert 'viewBox="0 0 660 90"' in night_strip(NIGHT, 480, 1140, 66, 9)


def test_a_night_without_a_usable_block_has_none_drawn() -> None:
    assert "usable" not in drawn(replace(NIGHT, usable=None))


def test_a_night_under_the_midnight_sun_is_all_day() -> None:
    assert drawn(replace(NIGHT, **NO_NIGHT)) == {}


def test_a_polar_night_is_dark_from_edge_to_edge() -> None:
    whole = ((0, 1440),)
    bands = replace(NIGHT, civil=whole, nautical=whole, astronomical=whole, dark=whole)
    assert drawn(bands)["b-dark"] == "M0 0H660"


def test_a_moon_that_sets_and_rises_again_veils_both_ends() -> None:
    bands = replace(NIGHT, veil=((540, 600), (1000, 1080)))
    assert drawn(bands)["veil"] == "M60 0H120M520 0H600"


@pytest.mark.parametrize(("lit", "opacity"), [(0, "0"), (0.1, ".16"), (0.5, ".57"), (1, "1")])
def test_the_veil_is_the_stronger_the_more_is_lit(lit: float, opacity: str) -> None:
    assert veil_opacity(lit) == opacity


def test_a_strip_weighs_at_most_350_bytes() -> None:
    assert len(night_strip(NIGHT, 480, 1140, 70, 9)) <= 350


def test_numbers_never_take_a_decimal_comma(settings: Any) -> None:
    settings.LANGUAGE_CODE = "de"
    template = Template("{% load pictures %}{% night_strip bands 480 1140 70 9 %}")
    shown = template.render(Context({"bands": NIGHT}))
    assert "H636" in shown
    assert "," not in shown


def test_a_strip_is_silent_beside_words_and_speaks_without_them() -> None:
    assert 'aria-hidden="true"' in night_strip(NIGHT, 480, 1140, 70, 9)
    spoken = night_strip(NIGHT, 480, 1140, 70, 9, label="dark <23:30–03:00>")
    assert 'role="img" aria-label="dark &lt;23:30–03:00&gt;"' in spoken


def test_the_style_sheet_may_set_the_size() -> None:
    assert " width=" not in night_strip(NIGHT, 480, 1140, 70, 9, sized=False)


def test_hours_stand_over_their_minutes() -> None:
    assert whole_hours(360, 1200, 4) == [480, 720, 960, 1200]
    head = strip_hours(360, 1200, 168)
    assert re.findall(r'<text x="([\d.]+)"[^>]*>(\d+)', head) == [
        ("24", "20"), ("72", "00"), ("120", "04"), ("168", "08"),
    ]  # fmt: skip


def test_hours_at_the_edge_stay_inside() -> None:
    assert '<text x="168" y="12" class="last">08</text>' in strip_hours(360, 1200, 168)
    assert '<text x="0" y="12" class="first">20</text>' in strip_hours(480, 1200, 144)
