"""The strip of one night: 48 px an hour, labels that do not fall on each other, odd nights."""

from __future__ import annotations

import re
from datetime import date
from itertools import pairwise

import pytest

from trips.almanac.nights import compute_nights
from trips.charts.course import Course, course_of
from trips.charts.timeline import HOUR_PX, Timeline, timeline, x_of
from trips.charts.timeline_tall import LEAST_APART, tall_timeline, window_of
from trips.models import Night, Site

TERUEL = Site(latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
TROMSO = Site(latitude=69.6, longitude=18.9, elevation_m=0, zone="Europe/Oslo")
FEN = Site(latitude=57.0, longitude=-4.0, elevation_m=300, zone="Europe/London")
LORD_HOWE = Site(latitude=-31.5, longitude=159.1, elevation_m=0, zone="Australia/Lord_Howe")
KIRITIMATI = Site(latitude=1.9, longitude=-157.4, elevation_m=0, zone="Pacific/Kiritimati")
SPRING = date(2027, 3, 27)
AUTUMN = date(2027, 10, 30)
PLAIN = date(2027, 7, 3)


def night(site: Site, day: date) -> Night:
    (row,) = compute_nights(site, day, day)
    return row


def course(site: Site, day: date, *, dark_level: int = -18, usable: bool = False) -> Course:
    row = night(site, day)
    block = (row.astronomical_dusk, row.astronomical_dawn) if usable else None
    return course_of(row, site.zone, dark_level=dark_level, usable=block)  # type: ignore[arg-type]


def lying(drawn: Course, note: str = "") -> Timeline:
    return timeline(drawn, title="The night", description="What it says", note=note)


def standing(drawn: Course, note: str = "") -> Timeline:
    return tall_timeline(drawn, title="The night", description="What it says", note=note)


def edges(d: str) -> list[tuple[float, float]]:
    return [(float(a), float(b)) for a, b in re.findall(r"M([\d.]+) [\d.]+H([\d.]+)", d)]


def words(labels: tuple[object, ...]) -> list[str]:
    return [f"{each.clock} {each.words}".strip() for each in labels]  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("site", "day", "hours"),
    [
        (TERUEL, PLAIN, 24),
        (TERUEL, SPRING, 23),
        (TERUEL, AUTUMN, 25),
        (LORD_HOWE, date(2027, 4, 3), 24.5),
        (LORD_HOWE, date(2027, 10, 2), 23.5),
        (KIRITIMATI, PLAIN, 24),
    ],
)
def test_a_night_is_as_long_as_it_is(site: Site, day: date, hours: float) -> None:
    drawn = lying(course(site, day))
    assert float(drawn.width) == pytest.approx(hours * HOUR_PX)
    assert edges(drawn.ground) == [(0.0, hours * HOUR_PX)]


def test_sunset_is_drawn_where_the_clock_says() -> None:
    row = night(TERUEL, PLAIN)
    assert row.sunset is not None
    minutes = (row.sunset - row.start).total_seconds() / 60
    civil = next(band for band in lying(course(TERUEL, PLAIN)).bands if band.name == "b-civil")
    assert edges(civil.d)[0][0] == pytest.approx(x_of(minutes), abs=0.06)


def test_each_band_lies_inside_the_lighter_one() -> None:
    drawn = [edges(band.d)[0] for band in lying(course(TERUEL, PLAIN)).bands]
    assert len(drawn) == 4
    for (start, end), (deeper_start, deeper_end) in pairwise(drawn):
        assert start < deeper_start < deeper_end < end


def test_hours_are_those_of_the_clock_and_both_noons_are_named() -> None:
    for day in (PLAIN, SPRING, AUTUMN):
        named = words(lying(course(TERUEL, day)).hours)
        assert (named[0], named[-1]) == ("12:00", "12:00")
        assert all(int(hour[:2]) % 3 == 0 for hour in named)


def test_no_hour_that_clocks_skip_is_ticked_and_a_repeated_one_is_ticked_twice() -> None:
    def clocks(day: date) -> list[str]:
        return [mark.clock for mark in course(TERUEL, day).hours]

    assert "02:00" not in clocks(SPRING)
    assert clocks(AUTUMN).count("02:00") == 2
    assert clocks(PLAIN).count("02:00") == 1


def test_a_change_of_clocks_is_drawn_where_it_happens_and_only_then() -> None:
    assert lying(course(TERUEL, PLAIN)).change == ""
    forward, back = course(TERUEL, SPRING).change, course(TERUEL, AUTUMN).change
    assert forward
    assert back
    assert (forward.minute, forward.clock, forward.words) == (840, "03:00", "clocks go forward")
    assert (back.minute, back.clock, back.words) == (900, "02:00", "clocks go back")


def test_dusks_end_at_their_line_and_dawns_start_at_it_on_three_steps() -> None:
    labels = {each.words: each for each in lying(course(TERUEL, PLAIN)).labels}
    assert [labels[name].anchor for name in ("sunset", "civil dusk", "nautical dusk")] == [
        "end"
    ] * 3
    assert [labels[name].anchor for name in ("sunrise", "civil dawn")] == ["start"] * 2
    steps = {float(labels[name].y) for name in ("sunset", "civil dusk", "nautical dusk")}
    assert len(steps) == 3
    assert labels["dark"].anchor == "start"
    assert labels["dark ends"].anchor == "end"


def test_a_short_dark_has_one_label_for_both_ends() -> None:
    drawn = words(lying(course(FEN, date(2027, 4, 27))).labels)
    assert any(re.fullmatch(r"\d\d:\d\d–\d\d:\d\d dark", each) for each in drawn)
    assert not any(each.endswith("dark ends") for each in drawn)


def test_at_twelve_degrees_dark_takes_the_place_of_nautical_dusk() -> None:
    named = [label.words for label in lying(course(TERUEL, PLAIN, dark_level=-12)).labels]
    assert "dark" in named
    assert "nautical dusk" not in named


def test_a_polar_summer_night_is_day_from_noon_to_noon_and_says_why() -> None:
    drawn = lying(course(TROMSO, date(2027, 6, 21)), note="the Sun does not set")
    assert drawn.bands == ()
    assert words(drawn.labels) == ["the Sun does not set"]


def test_a_polar_winter_night_is_never_day() -> None:
    drawn = lying(course(TROMSO, date(2027, 12, 20)))
    civil = next(band for band in drawn.bands if band.name == "b-civil")
    assert edges(civil.d) == [(0.0, 24 * HOUR_PX)]
    assert not any(label.words == "sunset" for label in drawn.labels)


def test_the_usable_block_is_drawn_in_the_lower_part_and_only_where_there_is_one() -> None:
    assert lying(course(TERUEL, PLAIN)).usable == ""
    block = lying(course(TERUEL, PLAIN, usable=True))
    dark = next(band for band in block.bands if band.name == "b-dark")
    assert edges(block.usable) == edges(dark.d)
    top = float(re.findall(r"M[\d.]+ ([\d.]+)", block.usable)[0])
    assert top > float(re.findall(r"M[\d.]+ ([\d.]+)", dark.d)[0])


def test_moonless_dark_is_named_in_the_strip_where_there_is_room() -> None:
    assert words(lying(course(TERUEL, PLAIN)).inside) == ["dark, no Moon, 4.9 h"]
    assert lying(course(FEN, date(2027, 4, 27))).inside == ()


def test_the_moon_s_bar_names_rise_and_set_and_a_moon_without_either() -> None:
    assert words(lying(course(TERUEL, SPRING)).moon_labels)[0].endswith("Moon rises")
    december = compute_nights(TROMSO, date(2027, 12, 1), date(2027, 12, 31))
    never = next(row for row in december if "moon_never_rises" in row.absent.values())
    drawn = lying(course_of(never, TROMSO.zone, dark_level=-18))
    assert words(drawn.moon_labels) == ["the Moon does not rise"]
    assert drawn.moon == ""


@pytest.mark.parametrize("day", [date(2027, month, 15) for month in range(1, 13)])
@pytest.mark.parametrize("site", [TERUEL, FEN, TROMSO, LORD_HOWE, KIRITIMATI])
def test_no_label_leaves_the_picture(site: Site, day: date) -> None:
    drawn = lying(course(site, day))
    for label in (*drawn.labels, *drawn.moon_labels):
        length = 7.4 * len(f"{label.clock} {label.words}")
        x = float(label.x)
        left = {"start": x, "end": x - length, "middle": x - length / 2}[label.anchor]
        assert left >= -1, label
        assert left + length <= float(drawn.width) + 1, label


@pytest.mark.parametrize("day", [date(2027, month, 15) for month in range(1, 13)])
@pytest.mark.parametrize("site", [TERUEL, FEN, TROMSO, LORD_HOWE, KIRITIMATI])
def test_labels_of_the_standing_night_do_not_fall_on_each_other(site: Site, day: date) -> None:
    drawn = standing(course(site, day))
    places = [float(label.y) for label in drawn.labels]
    assert all(later - earlier >= LEAST_APART - 0.11 for earlier, later in pairwise(places))
    assert places[0] >= 10
    assert places[-1] < float(drawn.height)


def test_the_standing_night_shows_an_hour_of_day_on_either_side() -> None:
    drawn = course(TERUEL, PLAIN)
    first, last = window_of(drawn)
    assert 60 <= drawn.bands.civil[0][0] - first < 120
    assert 60 <= last - drawn.bands.civil[0][1] < 120
    assert window_of(course(TROMSO, date(2027, 6, 21))) == (0, 1440)


def test_the_standing_night_says_all_that_the_lying_one_does() -> None:
    drawn = course(TERUEL, SPRING)
    named = set(words(standing(drawn).labels))
    assert set(words(lying(drawn).labels)) <= named
    assert words(lying(drawn).moon_labels)[0] in named


def test_numbers_are_written_for_machines() -> None:
    for drawn in (lying(course(TERUEL, PLAIN)), standing(course(TERUEL, PLAIN))):
        assert all(re.fullmatch(r"[\d.]+", each) for each in (drawn.width, drawn.height))
        assert all(re.fullmatch(r"[MHVzLhv\d. -]+", band.d) for band in drawn.bands)
