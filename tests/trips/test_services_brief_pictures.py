"""Pictures of a brief as SVG and PNG: real spots and targets, what is said, what is painted."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from io import BytesIO
from pathlib import Path

import html5lib
import numpy as np
import pytest
from PIL import Image

from trips.almanac.nights import compute_nights
from trips.charts.brief_night import NightStrip
from trips.charts.brief_sky import BriefSky
from trips.charts.finder import Finder
from trips.models import Landmark, Night, Site, Spot
from trips.services.brief_pictures import (
    Wanted,
    as_png,
    brief_sky,
    finder,
    night_strip,
    styled,
    svg,
)
from trips.services.picture_looks import PRINT, colours, style

SHEET = Path(__file__).resolve().parents[2] / "trips/static/trips/brief_pictures.css"
EVENING = date(2027, 6, 5)
AT = datetime(2027, 6, 5, 23, 0, tzinfo=UTC)
CORE = Wanted("milky-way:core", "Galactic core", 2)
ARCH = Wanted("milky-way:arch", "Arch", 1)
TOWER = Landmark(name="the tower", azimuth_degrees=174.0, top_degrees=9.0, is_seen_at_night=True)
MOST_BYTES = 12_000


@pytest.fixture(scope="module")
def spot() -> Spot:
    site = Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
    rough = [[at / 10, 4 + (at * 37 % 11) / 4] for at in range(0, 3600, 5)]
    return Spot(
        site=site, name="Wall", latitude=40.4, longitude=-1.1, elevation_m=1600, skyline=rough
    )


@pytest.fixture(scope="module")
def row(spot: Spot) -> Night:
    (found,) = compute_nights(spot.site, EVENING, EVENING)
    return found


@pytest.fixture
def drawings(row: Night, spot: Spot) -> dict[str, str]:
    strips = {one.name: finder(row, spot, one, AT, landmarks=[TOWER]) for one in (ARCH, CORE)}
    windows = [(2, AT, AT + timedelta(hours=1))]
    found: dict[str, Finder | BriefSky | NightStrip] = {
        "sky": brief_sky(row, spot, [ARCH, CORE], AT, landmarks=[TOWER]),
        "night": night_strip(
            row, "Europe/Madrid", windows, dark_level=-18, meet_at=AT - timedelta(hours=4),
            ends_at=AT + timedelta(hours=3),
        ),
        **{name: strip for name, strip in strips.items() if strip},
    }  # fmt: skip
    assert len(found) == 4
    return {name: svg(picture, prefix=f"p-{len(name)}") for name, picture in found.items()}


def painted(png: bytes) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    return np.asarray(Image.open(BytesIO(png)).convert("RGB"))


def core(row: Night, spot: Spot, *landmarks: Landmark) -> Finder:
    found = finder(row, spot, CORE, AT, landmarks=landmarks)
    assert found is not None
    return found


# What is said


def test_a_strip_says_its_sentence(row: Night, spot: Spot) -> None:
    picture = core(row, spot, TOWER)
    assert picture.title == "Galactic core at 01:00"
    assert picture.description == "Two fists left of the tower, one and a half up."


def test_a_strip_over_land_that_nobody_measured_says_so(row: Night, spot: Spot) -> None:
    level = Spot(
        site=spot.site, name="Rim", latitude=40.4, longitude=-1.1, elevation_m=1600, skyline=[]
    )
    assert "no skyline was measured" in core(row, level).description
    assert "no skyline was measured" not in core(row, spot).description


def test_what_is_down_or_does_not_happen_has_no_strip(row: Night, spot: Spot) -> None:
    december = Wanted("shower:GEM", "Geminids", 1)
    assert finder(row, spot, december, AT, landmarks=[]) is None
    assert finder(row, spot, CORE, AT + timedelta(hours=9), landmarks=[]) is None


def test_the_sky_says_how_to_hold_it_and_how_to_find_the_target(row: Night, spot: Spot) -> None:
    picture = brief_sky(row, spot, [CORE], AT, landmarks=[TOWER])
    assert picture.holding == "Hold it overhead, S toward the tower."
    assert picture.pointer_words[0].startswith("From Antares: one and a half fists left")
    assert all(words in picture.description for words in picture.pointer_words)


def test_a_target_wanted_at_two_times_has_one_ring_with_both_numbers(
    row: Night, spot: Spot
) -> None:
    later = Wanted(CORE.key, CORE.name, 3)
    picture = brief_sky(row, spot, [ARCH, CORE, later], AT, landmarks=[])
    assert len(picture.rings) == 1
    assert {name.words for name in picture.names if name.kind == "wanted"} == {"1", "2, 3"}


def test_the_night_reaches_from_dusk_or_the_meeting_to_dawn_or_the_end(row: Night) -> None:
    strip = night_strip(
        row, "Europe/Madrid", [], dark_level=-18, meet_at=AT - timedelta(minutes=270),
        ends_at=AT + timedelta(hours=3),
    )  # fmt: skip
    starts, ends = (datetime.fromtimestamp(at, UTC) for at in (strip.starts, strip.ends))
    assert starts == datetime(2027, 6, 5, 18, 0, tzinfo=UTC)
    assert row.sunrise
    assert timedelta(0) < ends - row.sunrise <= timedelta(hours=1)


# As SVG


def test_every_picture_is_small_and_a_lone_element(drawings: dict[str, str]) -> None:
    for name, drawing in drawings.items():
        assert len(drawing.encode()) <= MOST_BYTES, name
        document = html5lib.HTMLParser(strict=False).parseFragment(drawing)
        assert len([child for child in document if "svg" in str(child.tag)]) == 1, name
        assert "style=" not in drawing


def test_ids_begin_with_the_prefix_and_what_they_name_is_there(drawings: dict[str, str]) -> None:
    drawing = drawings["sky"]
    assert 'role="img" aria-labelledby="p-3-title p-3-said"' in drawing
    assert drawing.count('id="p-3-') == drawing.count('id="') == 3


def test_a_name_with_markup_is_text(row: Night, spot: Spot) -> None:
    drawing = svg(core(row, spot, named("<b>&\"'")), prefix="p")
    assert "<b>" not in drawing
    assert "&lt;b&gt;" in drawing


def named(name: str) -> Landmark:
    return Landmark(name=name, azimuth_degrees=174.0, top_degrees=9.0, is_seen_at_night=True)


# As PNG


@pytest.mark.parametrize("look", ["paper", "evening", "night", "grey", PRINT])
def test_the_ground_and_the_ink_are_those_of_the_look(drawings: dict[str, str], look: str) -> None:
    pixels = painted(as_png(drawings["sky"], width=400, look=look))
    assert pixels.shape[1] == 400
    ground = Image.new("RGB", (1, 1), colours(look)["--page"]).getpixel((0, 0))
    assert tuple(pixels[0, 0]) == ground
    assert len(np.unique(pixels.reshape(-1, 3), axis=0)) > 10


def test_at_night_nothing_is_green_or_blue_and_in_print_nothing_is_coloured(
    drawings: dict[str, str],
) -> None:
    for drawing in drawings.values():
        night = painted(as_png(drawing, width=600, look="night"))
        assert night[..., 1:].max() <= 24
        assert night[..., 0].max() > 200
        paper = painted(as_png(drawing, width=600, look=PRINT)).astype(int)
        assert (paper.max(axis=2) - paper.min(axis=2)).max() <= 1


def test_words_are_painted_with_the_shipped_faces(row: Night, spot: Spot) -> None:
    picture = core(row, spot, TOWER)
    below = slice(round(600 * picture.sky_height / picture.width) + 40, None)

    def inked(name: str) -> int:
        pixels = painted(as_png(svg(core(row, spot, named(name)), prefix="p"), width=600))
        return int((pixels[below].astype(int).sum(axis=2) < 300).sum())

    assert inked("the tower") > inked(".") + 200


@pytest.mark.parametrize("name", ["برج قديم", "古い塔", "מגדל", "🗼", "a" * 120, "x\u202ey"])
def test_a_name_in_any_script_is_painted(row: Night, spot: Spot, name: str) -> None:
    pixels = painted(as_png(svg(core(row, spot, named(name)), prefix="p"), width=300))
    assert pixels.std() > 10


# Colours stand in one place


def test_the_style_of_a_look_has_every_colour_written_out() -> None:
    for look in ("paper", "night", "grey", PRINT):
        assert "var(" not in style(look)
        assert "@" not in style(look)


def test_in_the_dark_letters_are_larger_and_small_names_left_out() -> None:
    assert ".brief-picture .m{display: none;}" in style("night")
    assert ".m{" not in style("paper")
    assert "font-size: 61px" in style("grey")
    assert "font-size: 61px" not in style("paper")


def test_the_sheet_itself_names_no_colour() -> None:
    sheet = SHEET.read_text("utf-8")
    assert "#" not in sheet
    assert "rgb" not in sheet


def test_an_unknown_look_is_refused() -> None:
    with pytest.raises(KeyError):
        colours("plaid")


def test_a_styled_drawing_stands_alone(drawings: dict[str, str]) -> None:
    drawing = styled(drawings["night"], look=PRINT)
    assert drawing.startswith('<svg xmlns="http://www.w3.org/2000/svg" class="brief-picture')
    assert "<style>" in drawing
