"""Where a camera is pointed for a target, what it then holds, and the words for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import numpy as np
import pytest

from sky.camera.drift import trail_px
from sky.camera.frame import Pointing
from sky.camera.lens import Lens
from sky.camera.sensor import COMMON_SENSORS, Sensor
from sky.camera.sketch import Landmark as DrawnLandmark
from sky.dome import Standing
from sky.place import Place
from sky.skyline import Skyline
from sky.targets.kinds import target_of
from tests.trips.frames import made_sketch
from tests.trips.skies import made_sky, made_stars, made_wanted
from trips.almanac.frame import Shot, declination_of, pointing_at, sketch_of
from trips.almanac.frame_times import best_of, steps, usual_moment
from trips.almanac.frame_words import answer, description, figures, legend, missing
from trips.almanac.nights import compute_nights
from trips.models import Landmark, Night, Site, Spot

EVENING = date(2027, 7, 3)
CORE_HIGHEST = datetime(2027, 7, 3, 23, 5, tzinfo=UTC)
HILL = Place(40.4, -1.1, 1600)
SHOT = Shot(Lens(24.0), COMMON_SENSORS["full-frame"], 20.0)
CORE = target_of("milky-way:core")


@pytest.fixture(scope="module")
def site() -> Site:
    return Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")


@pytest.fixture(scope="module")
def spot(site: Site) -> Spot:
    return Spot(site=site, name="Wall", latitude=40.4, longitude=-1.1, elevation_m=1600,
                skyline=[[0.0, 2.0], [90.0, 30.0], [180.0, 6.0]])  # fmt: skip


@pytest.fixture(scope="module")
def row(site: Site) -> Night:
    (found,) = compute_nights(site, EVENING, EVENING)
    return found


def pointed(spot: Spot, aim: str, at: datetime = CORE_HIGHEST, shot: Shot = SHOT) -> Pointing:
    return pointing_at(CORE, aim, shot, site=spot.site, spot=spot, instant=at)  # type: ignore[arg-type]


# Pointing


def test_a_target_in_the_middle_is_what_the_camera_looks_at(spot: Spot) -> None:
    found = pointed(spot, "middle")
    assert found.azimuth_degrees == pytest.approx(180, abs=1)
    assert found.altitude_degrees == pytest.approx(20.7, abs=0.2)


@pytest.mark.parametrize("sensor", [SHOT.sensor, SHOT.sensor.turned()])
def test_over_the_land_its_edge_is_a_third_up_whichever_way_the_camera_is_held(
    spot: Spot, row: Night, sensor: Sensor
) -> None:
    shot = replace(SHOT, sensor=sensor)
    aim = pointed(spot, "land", shot=shot)
    sketch = sketch_of(row, spot.site, spot, CORE_HIGHEST, shot=shot, pointing=aim)
    land = float(sketch.sky.skyline.at(np.array([aim.azimuth_degrees]))[0])
    _x, y = sketch.frame.on_sensor(land, aim.azimuth_degrees)
    assert y == pytest.approx(-shot.sensor.height_mm / 6)


@pytest.mark.parametrize("lens", [Lens(24.0), Lens(200.0), Lens(3.0, projection="orthographic")])
def test_a_target_too_high_to_stand_over_the_land_is_still_in_the_frame(
    spot: Spot, row: Night, lens: Lens
) -> None:
    shot = replace(SHOT, lens=lens)
    vega = target_of("star:vega")
    aim = pointing_at(vega, "land", shot, site=spot.site, spot=spot, instant=CORE_HIGHEST)
    sketch = sketch_of(
        row, spot.site, spot, CORE_HIGHEST, shot=shot, pointing=aim, wanted=[vega]
    )  # fmt: skip
    (standing,) = sketch.sky.wanted[0].standings
    assert sketch.frame.holds(standing.altitude_degrees, standing.azimuth_degrees)


def test_a_target_below_the_level_is_looked_at_along_the_level(spot: Spot) -> None:
    noon = datetime(2027, 7, 3, 11, 0, tzinfo=UTC)
    assert pointed(spot, "middle", noon).altitude_degrees == 0.0


@pytest.mark.parametrize(
    ("azimuth", "altitude", "declination"),
    [(0.0, 40.4, 90.0), (180.0, 49.6, 0.0), (90.0, 0.0, 0.0), (0.0, 90.0, 40.4)],
)
def test_the_declination_of_the_middle_is_that_of_the_pole_the_equator_and_the_zenith(
    azimuth: float, altitude: float, declination: float
) -> None:
    found = declination_of(Pointing(azimuth, altitude), HILL)
    assert found == pytest.approx(declination, abs=1e-4)


# What the frame holds


def test_the_stars_of_a_frame_are_inside_it_clear_of_the_land_and_down_to_5_5(
    spot: Spot, row: Night
) -> None:
    east = Pointing(90.0, 25.0)
    sketch = sketch_of(row, spot.site, spot, CORE_HIGHEST, shot=SHOT, pointing=east)
    stars = sketch.sky.stars
    assert sketch.frame.shows(sketch.starts).all()
    assert (stars.altitudes > sketch.sky.skyline.at(stars.azimuths)).all()
    assert 5.3 < stars.magnitudes.max() <= 5.5
    level = sketch_of(row, spot.site, None, CORE_HIGHEST, shot=SHOT, pointing=east)
    assert len(level.starts) > len(sketch.starts), "the wall hid some"
    assert level.sky.skyline.is_level


def test_the_sky_in_the_middle_moves_as_fast_as_drift_says(spot: Spot, row: Night) -> None:
    """`sky.camera.drift` knows speeds and no sky; the frame asks where stars stand twice."""
    aim = Pointing(180.0, 45.0)
    sketch = sketch_of(row, spot.site, spot, CORE_HIGHEST, shot=SHOT, pointing=aim)
    nearest = int(np.argmin(np.hypot(*sketch.starts.T)))
    expected = trail_px(SHOT.lens, SHOT.sensor, declination_of(aim, HILL), 20.0)
    assert sketch.trails_px[nearest] == pytest.approx(expected, rel=0.02)
    pole = sketch_of(row, spot.site, spot, CORE_HIGHEST, shot=SHOT, pointing=Pointing(0.0, 40.4))
    assert pole.trails_px.min() < 0.2


def test_landmarks_come_along_and_targets_that_do_not_happen_do_not(spot: Spot, row: Night) -> None:
    kiln = Landmark(name="Kiln", azimuth_degrees=190.0, top_degrees=9.0)
    geminids = target_of("shower:GEM")
    sketch = sketch_of(
        row, spot.site, spot, CORE_HIGHEST, shot=SHOT, pointing=Pointing(180.0, 20.0),
        wanted=[geminids, CORE], landmarks=[kiln],
    )  # fmt: skip
    assert sketch.landmarks == (DrawnLandmark("Kiln", 190.0, 9.0, 0.0),)
    assert [one.name for one in sketch.sky.wanted] == [CORE.name]


# Moments


def test_the_best_moment_is_the_night_s_own_or_why_there_is_none(spot: Spot, row: Night) -> None:
    best = best_of(CORE, spot.site, spot, row)
    assert best.instant is not None
    assert abs((best.instant - CORE_HIGHEST).total_seconds()) < 300
    assert usual_moment(row, best) == best.instant
    hidden = best_of(target_of("deep-sky:NGC0104"), spot.site, spot, row)
    assert hidden.instant is None
    assert "never rises here" in hidden.why_not
    middle = usual_moment(row, hidden)
    assert row.sunset is not None
    assert row.sunrise is not None
    assert middle - row.sunset == row.sunrise - middle


def test_steps_lead_to_moments_between_sunset_and_sunrise_and_no_further(
    site: Site, row: Night
) -> None:
    around = list(steps(row, site.zone, CORE_HIGHEST))
    assert [step.minutes for step in around] == [-60, -10, 10, 60]
    assert [(step.instant - CORE_HIGHEST).total_seconds() / 60 for step in around] == [
        -60, -10, 10, 60]  # fmt: skip
    assert row.sunset is not None
    first = [step.minutes for step in steps(row, site.zone, row.sunset)]
    assert first == [10, 60]


def test_a_step_onward_leads_past_an_hour_that_the_clock_shows_twice(site: Site) -> None:
    (row,) = compute_nights(site, date(2027, 10, 30), date(2027, 10, 30))
    before = datetime(2027, 10, 31, 0, 30, tzinfo=UTC)  # 02:30 in summer time, shown again
    found = {step.minutes: step.instant for step in steps(row, site.zone, before)}
    assert min(instant for minutes, instant in found.items() if minutes > 0) > before
    assert 60 not in found
    assert found[120] == datetime(2027, 10, 31, 2, 30, tzinfo=UTC)


# Words


def told(altitude: float, azimuth: float, **changes: object) -> str:
    """Tell of a target at 20° up in the south, or elsewhere, over a land 5° high."""
    sky = made_sky(skyline=Skyline(((0.0, 5.0),)), wanted=(made_wanted("M 8", altitude, azimuth),))
    return answer(made_sketch(180.0, 20.0, sky=sky, **changes), HILL, "23:40", "M 8")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("altitude", "azimuth", "words"),
    [
        (20.0, 180.0, "At 23:40 M 8 stands 20° up, 1½ fists above the land, in the middle;"),
        (20.0, 175.0, "4.7° left of the middle;"),
        (26.0, 186.0, "5.4° right of the middle and 6.1° above the middle;"),
        (4.0, 180.0, "stands 4° up, behind the land, 16° below the middle;"),
        (20.0, 100.0, "is not in the frame: it stands 20° up, 35° to the left of it;"),
        (70.0, 180.0, "23° above it;"),
        (20.0, 0.0, "behind the camera;"),
        (-3.0, 180.0, "At 23:40 M 8 is below the horizon;"),
    ],
)
def test_the_answer_says_where_the_target_stands_in_the_frame_or_beside_it(
    altitude: float, azimuth: float, words: str
) -> None:
    assert words in told(altitude, azimuth)


def test_the_answer_says_how_far_stars_trail() -> None:
    assert told(20.0, 180.0).endswith("a 20 s frame trails stars by 5 px.")
    assert told(20.0, 180.0, lens=Lens(2.0)).endswith("by less than a pixel.")


def test_without_a_target_the_answer_says_where_the_frame_looks() -> None:
    up, down = (
        answer(made_sketch(182.0, altitude), HILL, "23:40", "") for altitude in (20.0, -5.0)
    )
    assert "the frame looks toward south (182°), its middle 20° above the level;" in up
    assert "its middle 5° below the level;" in down
    zenith = answer(made_sketch(180.0, 90.0), HILL, "23:40", "")
    assert "the frame looks straight up, its lower edge toward south (180°);" in zenith


def test_a_target_of_another_season_does_not_happen() -> None:
    words = answer(made_sketch(), HILL, "23:40", "Geminids")
    assert words.startswith("Geminids does not happen in this night;")


def test_what_is_up_and_outside_the_frame_is_named_and_what_is_down_or_inside_is_not() -> None:
    high = Standing(30.0, 90.0)
    core = replace(made_sky().milky_way, core=Standing(20.0, 180.0))
    sketch = made_sketch(180.0, 20.0, sky=made_sky(moon=high, milky_way=core))
    assert missing(sketch) == "Not in the frame: the Moon, 38° to the left of it."
    turned = made_sketch(90.0, 20.0, sky=made_sky(moon=high, milky_way=core))
    assert missing(turned) == "Not in the frame: the galactic core, 43° to the right of it."
    assert missing(made_sketch(180.0, 20.0)) == ""
    assert missing(made_sketch(180.0, 60.0)).startswith("Not in the frame: the land, 33° below it")


def test_the_description_says_what_the_picture_shows() -> None:
    stars = made_stars(("Antares", 1.1, 25.0, 185.0), ("", 3.0, 20.0, 180.0))
    tower = DrawnLandmark("Tower", 185.0, 9.0, 2.0)
    said = description(
        made_sketch(180.0, 25.0, sky=made_sky(stars=stars), landmarks=(tower,)), "A."
    )
    assert said == "A. In the frame: Jupiter, Antares, Tower."


def test_the_legend_says_how_long_the_strokes_are_and_how_many_times_as_long_they_are_drawn() -> (
    None
):
    sky = made_sky(stars=made_stars(("", 1.0, 0.0, 180.0)))
    words = " ".join(legend(made_sketch(sky=sky, moved_degrees=0.083), 20))
    assert "Strokes: how stars move in 20 s, at most 6 px; drawn 20 times as long." in words
    assert "drawn" not in " ".join(legend(made_sketch(sky=sky, moved_degrees=5.0), 1))
    assert "Strokes" not in " ".join(legend(made_sketch(), 1))


def test_the_figures_give_field_direction_and_limits() -> None:
    field, middle, limit = (one.value for one in figures(made_sketch(180.0, 20.6), HILL))
    assert field == "74° across, 53° down, 84° from corner to corner"
    assert middle == "Toward south (180°), its middle 21° above the level"
    assert limit.startswith("20 s in the middle, 10 s where they are fastest (5 px);")
    circle, *_rest = figures(made_sketch(lens=Lens(8.0, None, "equidistant")), HILL)
    assert circle.value == "a circle of 180°"
