"""The partials of calendar and table: real tables, escaped names, light."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from django.template.loader import render_to_string

from tests.trips.lines import make_line, make_lines
from trips.charts.bands import NightLine
from trips.charts.calendar import months
from trips.charts.night_table import night_table

NASTY = ["<b>Grat</b> & “Kamm”", "夜の道 <i>閉鎖</i>", 'قلعة "الليل"']


def calendar(lines: list[NightLine], **how: Any) -> str:
    return render_to_string("trips/_months.html", {"months": months(lines, **how)})


def table(lines: list[NightLine], **how: Any) -> str:
    return render_to_string("trips/_nights.html", {"table": night_table(lines, **how)})


def test_each_month_is_a_table_with_a_caption_and_seven_heads() -> None:
    shown = calendar(make_lines(date(2027, 6, 1), date(2027, 7, 31)))
    assert shown.count("<table") == shown.count("<caption>") == 2
    assert shown.count('<th scope="col"') == 14
    assert "<strong>July 2027</strong>" in shown


def test_every_date_leads_to_its_night() -> None:
    lines = make_lines(date(2027, 6, 1), date(2027, 6, 30))
    for page in (calendar(lines), table(lines)):
        assert re.findall(r'<a href="([^"]+)"', page) == [line.address for line in lines]


def test_the_table_has_a_caption_heads_and_a_head_a_row() -> None:
    shown = table(make_lines(date(2027, 6, 1), date(2027, 6, 30)))
    assert shown.count("<caption>") == 1
    assert shown.count('<th scope="col"') == 10
    assert shown.count('<th scope="row">') == 30


def test_names_in_any_script_are_escaped() -> None:
    for name in NASTY:
        line = make_line(against=name, events=(name,), address="/?a=1&b=2")
        for page in (calendar([line]), table([line])):
            assert name not in page
            assert (
                name.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace('"', "&quot;")
                in page
            )
            assert 'href="/?a=1&amp;b=2"' in page


def test_what_a_rule_shows_is_said_too() -> None:
    lines = [
        make_line(date(2027, 6, 1), run=1),
        make_line(date(2027, 6, 2), run=1),
        make_line(date(2027, 6, 3)),
        make_line(date(2027, 6, 4), against="road closed"),
    ]
    shown = calendar(lines)
    assert "<em>run 1</em>" in shown
    assert '<i class="on">run 1</i>' in shown
    assert "<i>candidate</i>" in shown
    assert "<s>4</s><i>road closed</i>" in shown


def test_a_date_without_figures_has_no_link_and_says_so() -> None:
    lines = make_lines(date(2027, 6, 1), date(2027, 6, 3))
    del lines[1]
    shown = calendar(lines)
    assert '<td class="absent">2 <span>no figures</span>' in shown
    assert shown.count("<a href") == 2


def test_the_south_has_its_own_moon() -> None:
    lines = [make_line()]
    assert calendar(lines, south=True) != calendar(lines)
    assert table(lines, south=True) != table(lines)


def test_no_nights_make_no_empty_table() -> None:
    assert "<table" not in table([])
    assert "No night to show here." in table([])
    assert "<table" not in calendar([])


def test_nothing_in_them_needs_a_style_or_a_script() -> None:
    lines = make_lines(date(2027, 6, 1), date(2027, 6, 30))
    for page in (calendar(lines), table(lines)):
        assert " style=" not in page
        assert "<script" not in page


def test_they_stay_light() -> None:
    # The heaviest: every night has all bands, a veil, a block and its times (37 bytes a cell). With
    # the shares of the heads.
    lines = make_lines(date(2027, 6, 1), date(2027, 7, 31))
    assert len(calendar(lines).encode()) / 61 <= 640
    assert len(table(lines).encode()) / 61 <= 670
