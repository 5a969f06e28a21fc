"""The words of the card beside a chart: true to the night, few enough, the same as elsewhere."""

from __future__ import annotations

import json
from datetime import date, timedelta
from typing import Any

import pytest
from django.template.loader import render_to_string

from tests.trips.drawing import FIRST, Elements, chart, made_line, made_night, made_nights
from tests.trips.test_charts_season import real_nights
from trips.charts.bands import NightBands, NightLine
from trips.charts.readout import readout_of


def lines_of(nights: list[NightBands], **fields: Any) -> list[NightLine]:
    return [made_line(night, **fields) for night in nights]


def page_of(nights: list[NightBands], readout: dict[str, Any]) -> str:
    context = {"chart": chart(nights), "readout": readout}
    return render_to_string("trips/_season_chart.html", context)


def told(line: NightLine) -> list[str]:
    """Give the card's lines as the page's script puts them together."""
    readout = readout_of([line])
    ((day, usable, (phrase, *times), moon, remark, *_),) = readout["nights"]
    sun = readout["phrases"][phrase]
    for time in times:
        sun = sun.replace("{}", time, 1)
    lines = [
        day,
        readout["usable"].replace("{}", usable),
        sun,
        readout["moon"].replace("{}", moon),
        readout["remarks"][remark],
    ]
    return [line.replace("\u00a0", " ") for line in lines]


def test_a_card_tells_the_night() -> None:
    assert told(made_line(made_night(lit=0.034))) == [
        "Monday 1 March",
        "4.0 h usable",
        "Sunset 19:00. Dark 20:30 to 05:00.",
        "Moon 3 %, not up at night.",
        "Candidate.",
    ]


def test_usable_dark_is_told_by_that_name_beside_the_dark() -> None:
    line = made_line(made_night(), usable_dark_hours=9.04)
    assert told(line)[2] == "Sunset 19:00. Dark 20:30 to 05:00. Usable dark overhead 9.0 h."


def test_a_night_without_usable_hours_says_none() -> None:
    assert told(made_line(made_night(), usable_hours=0.0))[1] == "none usable"


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"civil": (), "dark": ()}, "The Sun does not set. No dark."),
        (
            {"civil": ((0.0, 1440.0),), "dark": ((300.0, 1100.0),)},
            "The Sun does not rise. Dark 17:00 to 06:20.",
        ),
        ({"civil": ((0.0, 1300.0),), "dark": ()}, "Sunset before noon. No dark."),
        ({"dark": ()}, "Sunset 19:00. No dark."),
        (
            {"dark": ((500.0, 600.0), (700.0, 800.0))},
            "Sunset 19:00. Dark 20:20 to 22:00. Dark 23:40 to 01:20.",
        ),
    ],
)
def test_what_does_not_happen_is_said(fields: dict[str, Any], words: str) -> None:
    assert told(made_line(made_night(**fields)))[2] == words


def test_a_card_tells_the_run_what_is_against_it_and_what_happens() -> None:
    events = ("New Moon 05:02", "clocks go forward")
    assert told(made_line(made_night(), run=2, events=events))[4] == (
        "Run 2. New Moon 05:02. Clocks go forward."
    )
    against = made_line(made_night(), is_candidate=False, against="road closed")
    assert told(against)[4] == "Road closed."


def test_the_run_is_given_as_a_number_for_the_script() -> None:
    readout = readout_of([made_line(made_night(), run=3), made_line(made_night(date(2027, 3, 2)))])
    assert [night[5] for night in readout["nights"]] == [3, 0]


def test_a_missing_night_is_none() -> None:
    nights = made_nights(4)
    del nights[1]
    readout = readout_of(lines_of(nights))
    assert [bool(night) for night in readout["nights"]] == [True, False, True, True]
    assert readout["first"] == FIRST.isoformat()


def test_addresses_are_one_pattern() -> None:
    readout = readout_of(lines_of(made_nights(3)))
    assert readout["address"] == "/sites/7/nights/{}/"
    assert all(len(night) == 6 for night in readout["nights"])


def test_an_address_of_another_pattern_is_given_with_its_night() -> None:
    nights = lines_of(made_nights(2))
    nights[1] = made_line(nights[1].bands, address="/elsewhere/")
    readout = readout_of(nights)
    assert readout["nights"][0][6:] == []
    assert readout["nights"][1][6:] == ["/elsewhere/"]


def test_dates_have_their_year_where_there_are_several() -> None:
    nights = made_nights(2, date(2027, 12, 31))
    assert [night[0] for night in readout_of(lines_of(nights))["nights"]] == [
        "Friday 31 December 2027",
        "Saturday 1 January 2028",
    ]


def test_of_no_nights_there_is_nothing() -> None:
    assert readout_of([]) == {}


def test_a_phrase_is_kept_once() -> None:
    readout = readout_of(lines_of(made_nights(100)))
    assert len(readout["phrases"]) == len(readout["remarks"]) == 1


def test_a_year_is_at_most_40_kb() -> None:
    nights = real_nights(date(2027, 1, 1), date(2027, 12, 31))
    lines = [
        made_line(night, events=("New Moon 05:02",) if number % 15 == 0 else ())
        for number, night in enumerate(nights)
    ]
    assert len(json.dumps(readout_of(lines))) <= 40_000


def test_the_page_has_the_card_the_data_and_one_slider() -> None:
    nights = made_nights(3)
    readout = readout_of(lines_of(nights))
    html = render_to_string(
        "trips/_season_chart.html", {"chart": chart(nights), "readout": readout}
    )
    page = Elements(html)
    assert len(page.of("div", role="slider")) == 1
    assert "hidden" in page.of("div", role="slider")[0]
    assert "hidden" in page.of("div", class_="chart-card")[0]
    assert page.of("script") == [{"type": "application/json"}]
    (data,) = [word for word in page.words if word.startswith("{")]
    assert json.loads(data) == readout


def test_words_that_end_a_script_do_not_end_it() -> None:
    nights = made_nights(1)
    readout = readout_of(lines_of(nights, against="</script><b>closed & 山"))
    html = render_to_string(
        "trips/_season_chart.html", {"chart": chart(nights), "readout": readout}
    )
    page = Elements(html)
    assert not [found for found in page.of("b") if found]
    assert len(page.of("b")) == 1  # of the card
    assert html.count("</script>") == 1


def test_without_a_readout_there_is_no_card_and_no_slider() -> None:
    page = Elements(page_of(made_nights(2), {}))
    assert not page.of("div", role="slider")
    assert not page.of("script")


def test_a_date_without_a_night_in_the_middle_keeps_later_nights_in_their_place() -> None:
    nights = made_nights(5)
    del nights[1:3]
    found = readout_of(lines_of(nights))["nights"]
    third = FIRST + timedelta(days=3)
    assert found[3][0] == f"Thursday {third.day} March"
