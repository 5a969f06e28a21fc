"""Two sites in one chart: what both offer, what only one does, and whose clock it is."""

from __future__ import annotations

import re
from datetime import date, time, timedelta

import pytest
from django.template.loader import render_to_string

from tests.trips.drawing import FIRST, Elements, made_night, made_nights
from tests.trips.test_charts_bands import HILL, MADRID, MadeNight
from trips.almanac.nights import compute_nights
from trips.charts.bands import NightBands, bands_of
from trips.charts.overlay import OverlayChart, overlay_chart, shared_out


def laid(
    first: list[NightBands], second: list[NightBands], names: tuple[str, str] = ("Hill", "Lake")
) -> OverlayChart:
    return overlay_chart(
        first,
        second,
        first_name=names[0],
        second_name=names[1],
        description="So and so many hours.",
        latest=time(2),
    )


def drawn(chart: OverlayChart) -> str:
    return render_to_string("trips/_overlay_chart.html", {"chart": chart})


def test_what_both_have_is_filled_and_what_only_the_first_has_is_hatched() -> None:
    chart = laid([made_night(out=((500.0, 700.0),))], [made_night(out=((600.0, 800.0),))])
    assert chart.both == "M0 600h1V700h-1z"
    assert chart.only == "M0 500h1V600h-1z"
    assert chart.second == "M0 600h1V800h-1z"


def test_sites_that_share_nothing_have_nothing_filled() -> None:
    chart = laid([made_night(out=((500.0, 600.0),))], [made_night(out=((700.0, 800.0),))])
    assert chart.both == ""
    assert chart.only == "M0 500h1V600h-1z"


def test_equal_sites_have_nothing_hatched() -> None:
    chart = laid(made_nights(3), made_nights(3))
    assert chart.only == ""
    assert chart.both == chart.second


def test_the_bands_are_those_of_the_first_site() -> None:
    chart = laid([made_night(dark=((600.0, 900.0),))], [made_night(dark=((500.0, 1000.0),))])
    assert chart.bands is not None
    assert chart.bands.dark == "M0 600h1V900h-1z"


def test_nights_are_matched_by_date() -> None:
    shared = shared_out(made_nights(3), made_nights(3, FIRST + timedelta(days=1)))
    assert set(shared.both) == {FIRST + timedelta(days=1), FIRST + timedelta(days=2)}
    assert shared.first[FIRST] == made_night().out


def test_the_picture_is_told_in_the_words_given() -> None:
    chart = laid(made_nights(1), made_nights(1))
    assert chart.description == "So and so many hours."
    assert drawn(chart).count(chart.description) > 1  # seen, and read of the picture itself


def test_nights_must_be_on_the_first_sites_clock() -> None:
    """The same instants are shared when both are on one clock, and an hour off when not."""
    (row,) = compute_nights(HILL, date(2027, 1, 3), date(2027, 1, 3))
    first, same_clock, own_clock = (
        bands_of(row, zone, dark_level=-18, out=row.dark_18[:1])
        for zone in (MADRID, MADRID, "Europe/London")
    )
    assert shared_out([first], [same_clock]).first[first.date] == ()
    ((start, end),) = shared_out([first], [own_clock]).first[first.date]
    assert end - start == pytest.approx(60)


def test_a_distant_site_keeps_its_instants_on_the_first_clock() -> None:
    row = MadeNight()
    noon = row.start.timestamp()
    out = [(noon + 9 * 3600, noon + 13 * 3600)]
    laid_over = bands_of(row, "Atlantic/Azores", dark_level=-18, out=out)
    assert laid_over.out == ((480.0, 720.0),)


def test_without_nights_there_is_a_sentence() -> None:
    html = drawn(laid([], made_nights(3)))
    assert "no nights to draw yet" in html
    assert "<svg" not in html


def test_without_nights_of_the_second_the_first_is_still_drawn() -> None:
    chart = laid(made_nights(3), [])
    assert chart.pictures
    assert chart.second == ""


@pytest.mark.parametrize("way", ["across", "down"])
def test_each_way_of_drawing_has_its_own_hatch(way: str) -> None:
    page = Elements(drawn(laid(made_nights(3), made_nights(3))))
    ids = {pattern["id"] for pattern in page.of("pattern")}
    used = {
        use["fill"].removeprefix("url(#").removesuffix(")")
        for use in page.of("use")
        if "fill" in use
    }
    assert used == ids
    assert any(used_id.endswith(way) for used_id in used)


def test_names_are_words_and_never_markup() -> None:
    html = drawn(laid(made_nights(2), made_nights(2), ("<i>Hill</i>", "Ψηλορείτης & 山")))
    page = Elements(html)
    assert not page.of("i")
    assert page.of("svg", class_="across")[0]["aria-label"].startswith(
        "<i>Hill</i> and Ψηλορείτης & 山"
    )


def test_ids_are_unique_on_a_page() -> None:
    pages = drawn(laid(made_nights(2), made_nights(2))) + drawn(
        laid(made_nights(2), made_nights(2), ("Lake", "Hill"))
    )
    ids = re.findall(r' id="([^"]+)"', pages)
    assert len(ids) == len(set(ids))


def test_all_swatches_are_explained() -> None:
    words = [item.words for item in laid(made_nights(2), made_nights(2)).legend]
    assert words[-3:] == [
        "usable at both at the same time",
        "usable only at Hill",
        "all usable hours of Lake",
    ]
