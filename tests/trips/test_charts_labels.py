"""What is written around the nights: runs with their links, hours, months, Moons, today."""

from __future__ import annotations

from datetime import date, time, timedelta

from tests.trips.drawing import AUGUST, FIRST, JULY, YEAR, chart, made_nights, ways, words
from trips.charts.bands import minutes_after_noon
from trips.charts.plan import labelled
from trips.charts.season import MoonMark, RunMark

# Runs


def test_a_run_is_a_link_over_its_nights() -> None:
    across, down = ways(chart(YEAR, marks=[JULY]))
    for picture in (across, down):
        (link,) = picture.links
        assert link.address == "/seasons/1/?run=1"
        assert [text.words for text in link.texts] == ["1", "2–4 Jul"]
    bar = across.links[0].mark
    assert (bar.x, bar.width) == (across.plot.x + 182 * 3, 9)


def test_a_stem_reaches_the_block_of_the_middle_night() -> None:
    across, down = ways(chart(YEAR, marks=[JULY]))
    assert across.stems == "M183.5 240V510"
    assert down.stems == "M183.5 1260V750"


def test_a_run_outside_the_season_is_left_out() -> None:
    outside = RunMark(1, date(2028, 1, 1), date(2028, 1, 3), "1–3 Jan", "/")
    across, _ = ways(chart(YEAR, marks=[outside]))
    assert not across.links


def test_links_are_large_enough_to_point_at() -> None:
    across, down = ways(chart(YEAR, marks=[JULY, AUGUST]))
    assert all(min(link.area.width, link.area.height) >= 24 for link in across.links)
    assert all(min(link.area.width, link.area.height) >= 44 for link in down.links)


def test_links_of_a_year_do_not_overlap_on_a_phone() -> None:
    _, down = ways(chart(YEAR, marks=[JULY, AUGUST]))
    first, second = (link.area for link in down.links)
    assert first.y + first.height <= second.y


def test_where_labels_would_collide_the_better_run_keeps_its_dates() -> None:
    nights = made_nights(1096, date(2027, 1, 1))
    across, _ = ways(chart(nights, marks=[AUGUST, JULY]))
    shown = {link.number: [text.words for text in link.texts] for link in across.links}
    assert shown[2] == ["2"]
    assert shown[1][0] == "1"


def test_labels_keep_apart() -> None:
    assert labelled([(1, 100, 60), (2, 200, 60)]) == {1, 2}
    assert labelled([(1, 100, 60), (2, 150, 60)]) == {1}
    assert labelled([(1, 100, 60), (2, 120, 20)]) == set()  # a number is in the way
    assert labelled([]) == set()


def test_labels_stay_inside_the_picture() -> None:
    last = RunMark(1, date(2027, 12, 30), date(2027, 12, 31), "30–31 December", "/")
    across, _ = ways(chart(YEAR, marks=[last]))
    area = across.links[0].area
    assert area.x + area.width <= across.width


def test_a_long_label_breaks_at_its_dash_on_a_phone() -> None:
    _, down = ways(chart(YEAR, marks=[AUGUST]))
    assert [text.words for text in down.links[0].texts] == ["2", "30 Jul–", "1 Aug"]


def test_a_link_is_named_in_the_words_that_are_seen() -> None:
    across, down = ways(chart(YEAR, marks=[AUGUST]))
    assert across.links[0].label == "Run 2: 30 Jul–1 Aug"
    assert down.links[0].label == "Run 2: 30 Jul– 1 Aug"


def test_a_link_whose_dates_are_not_seen_is_named_with_them() -> None:
    across, _ = ways(chart(made_nights(1096, date(2027, 1, 1)), marks=[JULY, AUGUST]))
    assert across.links[1].label == "Run 2: 30 Jul–1 Aug"


# Words around


def test_hours_run_from_16_to_8() -> None:
    across, down = ways(chart(YEAR))
    assert words(across)[:9] == [f"{hour % 24:02}:00" for hour in range(16, 33, 2)]
    assert {"16:00", "20:00", "00:00", "04:00", "08:00"} <= set(words(down))


def test_a_year_has_its_months_in_full_and_a_phone_has_them_short() -> None:
    across, down = ways(chart(YEAR))
    assert {"January", "September", "December"} <= set(words(across))
    assert {"Jan", "Sep", "Dec"} <= set(words(down))


def test_a_short_season_numbers_its_days() -> None:
    across, down = ways(chart(made_nights(7)))
    for picture in (across, down):
        assert {"1", "2", "7"} <= set(words(picture))


def test_a_long_season_does_not_number_its_days() -> None:
    assert "15" not in words(ways(chart(YEAR))[0])


def test_several_years_are_named() -> None:
    nights = made_nights(500, date(2027, 6, 1))
    across, down = ways(chart(nights))
    assert {"2027", "2028"} <= set(words(across))
    assert "2028" in words(down)


def test_one_year_is_not_named() -> None:
    assert "2027" not in words(ways(chart(YEAR))[0])


def test_the_latest_hour_is_a_line_with_its_words() -> None:
    found = chart(YEAR, latest=time(2))
    assert found.lines is not None
    assert found.lines.hours_out == "M0 840H365"
    assert all("latest hour out 02:00" in words(picture) for picture in found.pictures)


def test_an_hour_before_noon_is_of_the_morning() -> None:
    assert minutes_after_noon(time(2)) == 14 * 60
    assert minutes_after_noon(time(21, 30)) == 9 * 60 + 30


def test_today_is_marked_when_it_is_in_the_season() -> None:
    found = chart(YEAR, today=date(2027, 2, 16))
    assert found.lines is not None
    assert found.lines.today == "M46.5 240V1260"
    assert "today, 16 February" in words(found.pictures[0])


def test_today_is_not_marked_when_it_is_outside() -> None:
    found = chart(YEAR, today=date(2026, 11, 25))
    assert found.lines is not None
    assert found.lines.today == ""
    assert not any("today" in told for told in words(found.pictures[0]))


def test_today_gives_way_to_a_run() -> None:
    across, _ = ways(chart(YEAR, marks=[JULY], today=JULY.first))
    (text,) = [t for kind in across.texts.values() for t in kind if "today" in t.words]
    assert text.y > across.plot.y


def test_dates_to_avoid_are_bars_cut_to_the_season() -> None:
    found = chart(made_nights(10), avoid=[(FIRST - timedelta(days=5), FIRST), (FIRST, FIRST)])
    assert found.lines is not None
    assert found.lines.avoid == "M0 1260H1M0 1260H1"
    assert any("avoid" in note for note in found.notes)


def test_new_and_full_moons_have_discs_and_days() -> None:
    moons = [MoonMark(date(2027, 3, 8), "new"), MoonMark(date(2027, 3, 22), "full")]
    across, down = ways(chart(YEAR, moons=moons))
    for picture in (across, down):
        assert set(picture.moons) == {"new", "full"}
    assert {"8", "22"} <= set(words(across))


def test_moons_too_close_together_have_no_days() -> None:
    first = date(2027, 1, 1)
    moons = [MoonMark(first + timedelta(days=15 * n), "new") for n in range(70)]
    across, _ = ways(chart(made_nights(1096, first), moons=moons))
    assert not {"16", "31"} & set(words(across))
