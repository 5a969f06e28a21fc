"""The season chart: where nights stand, what breaks, what is written, and that it can be read."""

from __future__ import annotations

import itertools
import re
from datetime import date, time, timedelta
from functools import cache

import pytest
from django.template.loader import render_to_string
from django.utils import translation

from tests.trips.drawing import (
    AUGUST,
    FIRST,
    JULY,
    YEAR,
    Elements,
    chart,
    made_night,
    made_nights,
    ways,
    words,
)
from tests.trips.test_charts_bands import HILL, MADRID, SVALBARD
from trips.almanac.nights import compute_nights
from trips.charts.bands import NightBands, bands_of
from trips.charts.season import RunMark, SeasonChart


def drawn(found: SeasonChart) -> str:
    return render_to_string("trips/_season_chart.html", {"chart": found})


@cache
def real_nights(first: date, last: date) -> list[NightBands]:
    rows = compute_nights(HILL, first, last)
    return [bands_of(row, MADRID, dark_level=-18) for row in rows]


# Where nights stand


def test_a_year_has_three_pixels_a_night_and_27_an_hour() -> None:
    across, _ = ways(chart(YEAR))
    assert across.night_px == 3
    assert across.minute_px * 60 == 27
    assert across.plot.width == 3 * 365
    assert across.width <= 1152


@pytest.mark.parametrize("count", [1, 7, 31, 62, 184, 366, 731, 1096])
def test_a_season_of_any_length_fits_a_desk_and_a_phone(count: int) -> None:
    across, down = ways(chart(made_nights(count)))
    assert across.width <= 1152
    assert down.width <= 358
    assert down.plot.height <= 1100
    assert across.night_px >= 1
    assert down.night_px >= 1


def test_a_short_season_has_wider_columns() -> None:
    assert ways(chart(made_nights(7)))[0].night_px > ways(chart(made_nights(60)))[0].night_px


def test_the_matrix_puts_the_first_evening_at_the_corner_of_the_plot() -> None:
    across, down = ways(chart(YEAR))
    for picture in (across, down):
        a, b, c, d, e, f = map(float, picture.matrix.split())
        assert (a * 0 + c * 240 + e, b * 0 + d * 240 + f) == pytest.approx(
            (picture.plot.x, picture.plot.y)
        )
        assert (a * 365 + c * 1260 + e, b * 365 + d * 1260 + f) == pytest.approx(
            (picture.plot.x + picture.plot.width, picture.plot.y + picture.plot.height), abs=0.6
        )


def test_bands_are_drawn_one_inside_the_other() -> None:
    found = chart(made_nights(2))
    assert found.bands is not None
    assert found.bands.civil == "M0 420h2V1140h-2z"
    assert found.bands.dark == "M0 510h2V1020h-2z"


def test_a_missing_night_is_a_gap_and_is_told() -> None:
    nights = made_nights(5)
    del nights[2]
    found = chart(nights)
    assert found.bands is not None
    assert found.bands.day == "M0 240h2V1260h-2zM3 240h2V1260h-2z"
    assert any("not computed" in note for note in found.notes)


def test_a_season_without_gaps_does_not_tell_of_any() -> None:
    assert not chart(made_nights(5)).notes


def test_in_the_midnight_sun_there_is_day_and_no_band() -> None:
    row = compute_nights(SVALBARD, date(2027, 6, 21), date(2027, 6, 22))
    found = chart([bands_of(night, SVALBARD.zone, dark_level=-18) for night in row])
    assert found.bands is not None
    assert found.bands.day
    assert found.bands.civil == found.bands.dark == ""
    assert [item.words for item in found.legend] == ["day"]


def test_the_polar_night_is_dark_over_the_whole_height() -> None:
    nights = made_nights(3, civil=((0.0, 1440.0),), nautical=((0.0, 1440.0),))
    found = chart(nights)
    assert found.bands is not None
    assert found.bands.civil == found.bands.nautical == found.bands.day


# The Moon's light, and the block that counts


@pytest.mark.parametrize(("lit", "opacity"), [(1.0, "1"), (0.5, "0.6"), (0.1, "0.2")])
def test_the_veil_is_the_stronger_the_more_of_the_moon_is_lit(lit: float, opacity: str) -> None:
    found = chart([made_night(veil=((420.0, 600.0),), lit=lit)])
    assert found.bands is not None
    (veil,) = found.bands.veils
    assert (veil.opacity, veil.path) == (opacity, "M0 420V600")


def test_a_moon_that_is_hardly_lit_has_no_veil() -> None:
    found = chart([made_night(veil=((420.0, 600.0),), lit=0.005)])
    assert found.bands is not None
    assert found.bands.veils == ()


def test_the_block_is_filled_and_what_lies_beyond_is_drawn_apart() -> None:
    found = chart([made_night()])
    assert found.usable == "M0 510h1V750h-1z"
    assert found.out == "M0 510V840"


def test_a_block_that_is_all_there_is_has_nothing_beyond() -> None:
    found = chart([made_night(usable=(510.0, 750.0), out=((510.0, 750.00001),))])
    assert found.out == ""
    assert not any("beyond" in item.words for item in found.legend)


def test_a_block_is_not_filled_where_the_moon_is_up_in_its_middle() -> None:
    found = chart([made_night(usable=(510.0, 750.0), out=((510.0, 600.0), (700.0, 750.0)))])
    assert found.usable == "M0 510h1V600h-1zM0 700h1V750h-1z"


def test_without_usable_hours_nothing_is_filled_or_explained() -> None:
    found = chart([made_night(usable=None, out=())])
    assert found.usable == ""
    assert not any("usable" in item.words for item in found.legend)


# Clock changes


def test_real_bands_break_where_clocks_change_and_nowhere_else() -> None:
    """Across a year no band's edge moves by more than minutes but in the nights of the change."""
    nights = real_nights(date(2027, 1, 1), date(2027, 12, 31))
    changes = {date(2027, 3, 27), date(2027, 10, 30)}
    for before, after in itertools.pairwise(nights):
        ((set_before, rise_before),), ((set_after, rise_after),) = before.civil, after.civil
        # The evening jumps after the night of the change, the morning within it.
        assert (abs(set_after - set_before) > 5) == (before.date in changes)
        assert (abs(rise_after - rise_before) > 5) == (after.date in changes)


def test_a_real_year_has_no_false_spike() -> None:
    """No edge of a band leaves the range of the nights on its two sides."""
    nights = real_nights(date(2027, 3, 20), date(2027, 4, 3))
    found = chart(nights)
    assert found.bands is not None
    y = 0.0
    levels = []
    for letter, value in re.findall(r"([MvV])(?:\d+ )?(-?\d+)", found.bands.dark):
        y = y + float(value) if letter == "v" else float(value)
        levels.append(y)
    edges = {round(edge) for night in nights for edge in night.dark[0]}
    assert set(levels) <= {edge + step for edge in edges for step in (-1, 0, 1)}


def test_the_line_of_a_clock_change_has_a_step_of_one_night() -> None:
    nights = [*made_nights(2), made_night(FIRST + timedelta(days=2), offsets=(60, 120))]
    nights += made_nights(3, FIRST + timedelta(days=3), offsets=(120, 120))
    found = chart(nights)
    assert found.lines is not None
    assert found.lines.changes == "M3 240V840H2V1260"


@pytest.mark.parametrize(
    ("offsets", "told"), [((60, 120), "clocks forward"), ((120, 60), "clocks back")]
)
def test_a_clock_change_is_named_in_two_lines(offsets: tuple[int, int], told: str) -> None:
    nights = [made_night(FIRST, offsets=offsets), *made_nights(60, FIRST + timedelta(days=1))]
    across, down = ways(chart(nights))
    assert {told, "2 March"} <= set(words(across))
    assert "2 Mar" in words(down)


def test_without_a_clock_change_none_is_drawn() -> None:
    found = chart(YEAR)
    assert found.lines is not None
    assert found.lines.changes == ""
    assert not any("clocks" in told for told in words(found.pictures[0]))


def test_a_clock_change_is_written_on_the_morning_where_the_evening_is_dark() -> None:
    early = {"civil": ((250.0, 1000.0),)}
    nights = [made_night(offsets=(120, 60)), *made_nights(60, FIRST + timedelta(days=1), **early)]
    across, _ = ways(chart(nights))
    middle = across.plot.y + across.plot.height / 2
    assert all(text.y > middle for text in across.texts["t-day"])


# As a page


def test_the_picture_says_what_it_shows_once_and_its_links_stay_links() -> None:
    page = Elements(drawn(chart(YEAR, marks=[JULY])))
    pictures = page.of("g", role="img")
    assert {picture["aria-label"] for picture in pictures} == {"Dark from 20:30 to 05:00."}
    assert [link["aria-label"] for link in page.of("a")] == ["Run 1: 2–4 Jul"] * 2
    html = drawn(chart(YEAR, marks=[JULY]))
    for picture in re.findall(r'<g role="img".*?\n</g>', html, re.DOTALL):
        assert "<a " not in picture


def test_both_ways_of_drawing_use_the_same_paths() -> None:
    html = drawn(chart(YEAR))
    uses = Elements(html).of("use")
    assert len(uses) == 2
    assert len({use["href"] for use in uses}) == 1
    found = chart(YEAR)
    assert found.bands is not None
    assert html.count(found.bands.dark) == 1


def test_two_charts_on_a_page_have_different_ids() -> None:
    pages = drawn(chart(YEAR, title="One")) + drawn(chart(YEAR, title="Two"))
    ids = re.findall(r' id="([^"]+)"', pages)
    assert len(ids) == len(set(ids)) == 4


def test_two_charts_of_one_title_have_different_ids_by_their_keys() -> None:
    pages = drawn(chart(YEAR, key="a")) + drawn(chart(YEAR, key="b"))
    ids = re.findall(r' id="([^"]+)"', pages)
    assert len(ids) == len(set(ids))


def test_a_year_is_at_most_60_kb() -> None:
    nights = real_nights(date(2027, 1, 1), date(2027, 12, 31))
    assert len(drawn(chart(nights, marks=[JULY, AUGUST])).encode()) <= 60_000


def test_names_in_any_script_are_words_and_never_markup() -> None:
    title = "<script>alert(1)</script> Ψηλορείτης \u202eabc 山 \"quoted\" & 'more'"
    mark = RunMark(1, JULY.first, JULY.last, "<b>2–4</b> Jul", '/?a="b"&c=<d>')
    html = drawn(chart(YEAR, title=title, description=title, marks=[mark]))
    page = Elements(html)
    assert not page.of("script")
    assert not page.of("b")
    assert page.of("svg", class_="across")[0]["aria-label"] == title
    assert page.of("a")[0]["href"] == '/?a="b"&c=<d>'


def test_numbers_are_never_localised() -> None:
    nights = made_nights(1096, date(2027, 1, 1))
    with translation.override("de"):
        html = drawn(chart(nights, marks=[JULY], latest=time(2), today=date(2027, 2, 1)))
    for tag, attributes in Elements(html).found:
        for name in ("d", "x", "y", "width", "height", "viewbox", "transform"):
            assert "," not in attributes.get(name, ""), (tag, name)


def test_of_no_nights_there_is_a_sentence() -> None:
    html = drawn(chart([]))
    assert "no nights to draw yet" in html
    assert not Elements(html).of("svg")


def test_nothing_is_styled_or_scripted_in_the_page() -> None:
    page = Elements(drawn(chart(YEAR, marks=[JULY])))
    for _, attributes in page.found:
        assert not [name for name in attributes if name == "style" or name.startswith("on")]
    assert not page.of("style")


def test_only_the_plot_scrolls_and_it_has_a_name() -> None:
    (stage,) = Elements(drawn(chart(YEAR))).of("div", class_="wide")
    assert (stage["tabindex"], stage["role"]) == ("0", "region")
    assert stage["aria-label"] == "Every night of 2027"
