"""What is set for a lens under a sky, held against worked values; and how it is said."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from sky.targets.catalogue import catalogue
from trips.almanac.camera import (
    SKIES,
    Answer,
    Lens,
    Question,
    Tracker,
    answer,
    moonlit_mag,
    sensor_by_name,
)
from trips.almanac.camera_told import told
from trips.almanac.camera_words import (
    grouped,
    hands,
    iso_words,
    seconds_words,
    stops_words,
    toward_words,
)

ASKED = Question(
    lens=Lens(24.0, 2.8),
    sensor=sensor_by_name("full-frame"),
    f_number=2.8,
    top_iso=12_800,
    dark_mag=SKIES["far"],
    moon="none",
    declination=-29.0,
    trail_px=5.0,
    tracker=None,
    has_snow=False,
    faint_mag=22.0,
    wide_degrees=180.0,
    high_degrees=60.0,
)
TRACKER = Tracker(arcseconds_per_minute=2.0, polar_arcminutes=5.0)


def found(**changed: object) -> Answer:
    return answer(replace(ASKED, **changed))  # type: ignore[arg-type]


def warned(**changed: object) -> str:
    asked = replace(ASKED, **changed)  # type: ignore[arg-type]
    return " ".join(told(asked, answer(asked)).warnings)


def parts(**changed: object) -> dict[str, str]:
    asked = replace(ASKED, **changed)  # type: ignore[arg-type]
    every = told(asked, answer(asked)).parts
    return {part.name: " ".join((part.figure, *part.lines, *part.notes)) for part in every}


# Values


@pytest.mark.parametrize(("moon", "magnitude"), [("full", 18.662), ("half", 20.704)])
def test_a_moon_brightens_the_sky_as_published(moon: str, magnitude: float) -> None:
    """Krisciunas & Schaefer, PASP 103 (1991) 1033, recomputed from the equations: 79.0 nL,
    Moon 60° from it, k = 0.172."""
    assert moonlit_mag(21.587, moon) == pytest.approx(magnitude, abs=0.002)


def test_a_thin_moon_takes_less_than_a_half_and_none_takes_nothing() -> None:
    assert moonlit_mag(21.8, "half") < moonlit_mag(21.8, "thin") < 21.8
    assert moonlit_mag(21.8, "none") == 21.8


def test_the_brightest_sky_with_a_moon_can_still_be_counted() -> None:
    assert moonlit_mag(10.0, "full") == 10.0


def test_the_time_is_the_longest_step_in_which_the_middle_stays_a_point() -> None:
    """5 px of 6 µm at 24 mm and −29°: 30 µm / (24 mm · 72.92e-6/s · cos 29°) = 19.6 s."""
    exposure = found().exposure
    assert exposure.drift_limit == pytest.approx(19.6, abs=0.05)
    assert exposure.seconds == 15.0
    assert found(trail_px=2.0).exposure.seconds == 6.0


def test_the_iso_follows_the_reflected_light_equation() -> None:
    """12.5 N² / (L t) · 2^−1.5 with L = 10.8e4 · 10^(−0.4 · 21.8); ISO 2720, K = 12.5."""
    luminance = 10.8e4 * 10 ** (-0.4 * 21.8)
    exact = 12.5 * 2.8**2 / (luminance * 15) / 2**1.5
    assert found().exposure.iso.exact == pytest.approx(exact, rel=1e-9)
    assert found().exposure.iso.step == 10_000


def test_a_tracker_allows_longer_and_never_longer_than_it_holds() -> None:
    follows = found(tracker=TRACKER)
    assert (follows.exposure.seconds, follows.limited_by) == (120.0, "tracker")
    far_lens = found(tracker=replace(TRACKER, polar_arcminutes=60), lens=Lens(500.0, 4.0))
    assert far_lens.exposure.seconds <= far_lens.limit_seconds < 120
    assert far_lens.trail_px <= 5


def test_a_sky_too_bright_for_the_lowest_iso_shortens_the_time() -> None:
    bright = found(dark_mag=16.0)
    assert bright.limited_by == "light"
    assert bright.exposure.seconds < found().exposure.seconds
    assert bright.exposure.iso.step >= 100


def test_the_example_of_a_faint_glow_is_true() -> None:
    """Mean surface brightness of the Andromeda Galaxy: V spread over the ellipse of its axes."""
    galaxy = catalogue().objects["NGC0224"]
    assert galaxy.magnitude is not None
    assert galaxy.major_arcmin is not None
    assert galaxy.minor_arcmin is not None
    area = math.pi / 4 * galaxy.major_arcmin * galaxy.minor_arcmin * 3600
    assert galaxy.magnitude + 2.5 * math.log10(area) == pytest.approx(22.3, abs=0.05)


# Words


def test_the_answer_comes_as_people_set_it() -> None:
    said = told(ASKED, found())
    assert (said.seconds, said.f_number, said.iso) == (
        "15 s",
        "f/2.8",
        "ISO 10\N{NO-BREAK SPACE}000",
    )
    assert "(full frame) toward the core of the Milky Way, far from lights:" in said.lead
    assert "3.8 pixels in the middle" in said.lead
    assert said.warnings == ()


def test_an_iso_beyond_the_camera_says_what_to_do_instead() -> None:
    said = warned(top_iso=1600)
    assert "At ISO 1600, the highest that you use, the frame comes out 2⅔ stops darker" in said
    assert "take 8 frames and average them" in said


def test_only_what_can_still_be_done_is_proposed_against_too_little_light() -> None:
    assert "darker: put the camera on a tracker or take 8 frames" in warned(top_iso=1600)
    assert "open the lens further, put the camera" in warned(top_iso=1600, f_number=4.0)
    assert "darker: take" in warned(top_iso=100, tracker=TRACKER)


def test_what_people_use_stands_beside_the_iso_near_f_2_8_without_a_moon() -> None:
    habit = "Near f/2.8 people use ISO 400 to 1600 in a town, 1600 to 3200 away from it"
    assert habit in parts()["light"]
    assert habit in parts(f_number=2.5, lens=Lens(24.0, 1.4))["light"]
    assert habit not in parts(f_number=4.0)["light"]
    assert habit not in parts(moon="half")["light"]


def test_a_sky_that_is_not_offered_is_told_by_its_number_and_the_moon_by_its_shape() -> None:
    asked = replace(ASKED, dark_mag=20.7, moon="half")
    said = told(asked, answer(asked)).lead
    assert "under a sky of 20.7 mag/arcsec², with a half Moon" in said


def test_a_washed_out_sky_is_told() -> None:
    assert "washed out even at ISO 100" in warned(dark_mag=16.0)


def test_a_real_focal_length_of_a_phone_is_told_with_its_equivalent() -> None:
    """3 mm on 9.8 × 7.3 mm: 43.27 / 12.22 = 3.54 times as long on full frame."""
    said = warned(lens=Lens(3.0, 2.2), sensor=sensor_by_name("phone-main"))
    assert "3 mm is a phone’s real focal length" in said
    assert "is 11 mm" in said
    assert "choose the phone’s" not in said
    assert "Only phones have a lens of 3 mm" in warned(lens=Lens(3.0, 2.2))


def test_an_equivalent_of_a_phone_is_told_with_its_real_focal_length() -> None:
    said = warned(lens=Lens(24.0, 1.8), sensor=sensor_by_name("phone-main"))
    assert "real focal length is 6.8 mm" in said
    assert "real focal length" not in warned(
        lens=Lens(6.8, 1.8), sensor=sensor_by_name("phone-main")
    )


def test_a_long_lens_on_a_tripod_is_told_of_trackers_and_one_on_a_tracker_is_not() -> None:
    assert "a tracker is worth its weight" in warned(lens=Lens(135.0, 2.0))
    assert "worth its weight" not in warned(lens=Lens(135.0, 2.0), tracker=TRACKER)


def test_snow_is_told_only_where_it_lies() -> None:
    assert "1 to 2 stops less" in parts(has_snow=True)["land"]
    assert "stops less" not in parts()["land"]


def test_the_rules_by_habit_stand_beside_the_limits() -> None:
    assert "500 / f gives 20.8 s, 300 / f 12.5 s (common practice" in parts()["time"]


def test_a_panorama_that_nobody_turns_is_not_listed_row_by_row() -> None:
    assert "6 frames tilted 30° up, turned by 30°" in parts()["panorama"]
    assert "more than anybody turns by hand" in parts(lens=Lens(200.0, 2.8))["panorama"]


def test_a_circle_is_told_as_one() -> None:
    assert "a circle of 180° with black corners" in parts(lens=Lens(8.0, 3.5, "equisolid"))["view"]
    assert "74° across, 53° down" in parts()["view"]


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        (seconds_words(1 / 60), "1/60 s"),
        (seconds_words(0.8), "0.8 s"),
        (seconds_words(15.0), "15 s"),
        (seconds_words(12.5), "12.5 s"),
        (seconds_words(240.0), "4 min"),
        (seconds_words(9000.0), "2.5 h"),
        (grouped(6400), "6400"),
        (grouped(12_800), "12\N{NO-BREAK SPACE}800"),
        (iso_words(3200), "ISO 3200"),
        (stops_words(-1.0), "1 stop"),
        (stops_words(-2.66), "2⅔ stops"),
        (stops_words(0.34), "⅓ stop"),
        (hands(74.0), "7½ fists"),
        (hands(10.0), "1 fist"),
        (hands(5.0), "2 fingers"),
        (hands(4.0), "2 fingers"),
        (hands(0.5), "1 Moon"),
        (toward_words(0.0), "Orion’s belt, on the sky’s equator"),
        (toward_words(-12.0), "declination −12°"),
    ],
)
def test_figures_are_said_as_people_say_them(said: str, meant: str) -> None:
    assert said == meant
