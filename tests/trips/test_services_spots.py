"""Deeds on spots: saved whole or not at all, ordered, archived; never with another's rows."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import pytest
from django.core.exceptions import ValidationError

from tests.trips.making import NOON, make_organisation, make_season, make_site
from trips.almanac.windows import wanted_rows, windows_fingerprint
from trips.almanac.wording import SkyError
from trips.models import Hazard, Job, Landmark, Site, Spot, TargetEntry, TargetList, TargetWindows
from trips.services import spots as services
from trips.services.editing import EditedMeanwhileError
from trips.services.spots import Changes, archive_spot, doubts, put_first, spots_of

pytestmark = pytest.mark.django_db
SKYLINE = [[0.0, 2.0], [120.0, 6.0], [240.0, 4.0]]


@pytest.fixture
def site() -> Site:
    return make_site()


def unsaved(site: Site, **fields: Any) -> Spot:
    values = {"name": "Wall", "latitude": 40.4, "longitude": -1.1, "elevation_m": 1600.0}
    return Spot(site=site, **values | fields)


def save_spot(spot: Spot, **rows: Any) -> None:
    services.save_spot(spot, by=None, now=NOON, **rows)


def saved(site: Site, **fields: Any) -> Spot:
    spot = unsaved(site, **fields)
    save_spot(spot)
    return spot


def tower(**fields: Any) -> Landmark:
    return Landmark(**{"name": "Tower", "azimuth_degrees": 90.0, "top_degrees": 5.0} | fields)


def test_a_spot_is_saved_with_its_skyline_landmarks_and_hazards(site: Site) -> None:
    spot = unsaved(site, skyline=SKYLINE)
    edge = Hazard(kind="edge", text="behind the wall")
    save_spot(spot, landmarks=Changes([tower()]), hazards=Changes([edge]))
    stored = Spot.objects.get()
    assert stored.skyline == SKYLINE
    assert [one.name for one in stored.landmarks.all()] == ["Tower"]
    assert [one.text for one in stored.hazards.all()] == ["behind the wall"]
    assert edge.site == site


@pytest.mark.parametrize(
    "wrong",
    [{"latitude": 95.0}, {"longitude": 400.0}, {"elevation_m": 90_000.0},
     {"skyline": [[10.0, 95.0]]}, {"skyline": [[10.0, 1.0], [10.0, 2.0]]}],
)  # fmt: skip
def test_what_cannot_be_is_refused_and_nothing_is_saved(site: Site, wrong: dict[str, Any]) -> None:
    with pytest.raises(SkyError):
        save_spot(unsaved(site, **wrong), landmarks=Changes([tower()]))
    assert not Spot.objects.exists()
    assert not Landmark.objects.exists()


def test_a_landmark_of_another_spot_is_refused_and_nothing_is_saved(site: Site) -> None:
    theirs = saved(make_site(make_organisation("Other"), name="Quay"), name="Pier")
    foreign = Landmark.objects.create(spot=theirs, name="Crane", azimuth_degrees=1, top_degrees=1)
    ours = saved(site)
    ours.name = "Renamed"
    with pytest.raises(ValidationError, match="belongs to another spot"):
        save_spot(ours, landmarks=Changes([foreign]))
    with pytest.raises(ValidationError, match="belongs to another spot"):
        save_spot(ours, landmarks=Changes(dropped=[foreign]))
    foreign.refresh_from_db()
    ours.refresh_from_db()
    assert (foreign.spot, ours.name) == (theirs, "Wall")


def test_a_hazard_of_the_whole_site_does_not_become_the_spots(site: Site) -> None:
    hazard = Hazard.objects.create(site=site, kind="cold", text="wind")
    for spot in (unsaved(site), saved(site, name="Other")):
        with pytest.raises(ValidationError):
            save_spot(spot, hazards=Changes([hazard]))
    hazard.refresh_from_db()
    assert hazard.spot is None


def test_a_row_that_is_taken_off_is_gone(site: Site) -> None:
    spot = unsaved(site)
    save_spot(spot, landmarks=Changes([tower(), tower(name="Tree")]))
    save_spot(spot, landmarks=Changes(dropped=[spot.landmarks.get(name="Tree")]))
    assert [one.name for one in spot.landmarks.all()] == ["Tower"]


def test_the_second_of_two_editors_is_told_and_nothing_is_overwritten(site: Site) -> None:
    saved(site)
    first, second = Spot.objects.get(), Spot.objects.get()
    first.name, second.name = "First", "Second"
    save_spot(first)
    with pytest.raises(EditedMeanwhileError):
        save_spot(second, landmarks=Changes([tower()]))
    assert Spot.objects.get().name == "First"
    assert not Landmark.objects.exists()


def test_a_spot_does_not_move_to_another_site(site: Site) -> None:
    spot = saved(site)
    spot.site = make_site(make_organisation("Other"), name="Quay")
    save_spot(spot)
    assert Spot.objects.get().site == site


def test_a_landmark_with_a_position_gets_its_direction_and_distance(site: Site) -> None:
    spot = unsaved(site)
    save_spot(spot, landmarks=Changes([tower(latitude=40.39, longitude=-1.1)]))
    landmark = spot.landmarks.get()
    assert landmark.azimuth_degrees == pytest.approx(180, abs=0.001)
    assert landmark.distance_m == pytest.approx(1110, abs=2)


def test_a_landmark_without_one_keeps_what_was_typed(site: Site) -> None:
    spot = unsaved(site)
    save_spot(spot, landmarks=Changes([tower(distance_m=77.0)]))
    landmark = spot.landmarks.get()
    assert (landmark.azimuth_degrees, landmark.distance_m) == (90, 77)


def test_a_spot_that_moves_aims_anew_at_landmarks_with_a_position(site: Site) -> None:
    spot = unsaved(site)
    save_spot(spot, landmarks=Changes([tower(latitude=40.39, longitude=-1.1)]))
    spot.longitude = -1.11
    save_spot(spot)
    assert 130 < spot.landmarks.get().azimuth_degrees < 145


def test_a_new_spot_comes_after_the_others(site: Site) -> None:
    first, second = saved(site), saved(site, name="Terrace")
    assert spots_of(site) == [first, second]


def test_any_spot_can_be_put_first(site: Site) -> None:
    spots = [saved(site, name=name) for name in ("A", "B", "C")]
    put_first(spots[2])
    assert [spot.name for spot in spots_of(site)] == ["C", "A", "B"]


def test_an_archived_spot_is_kept_and_no_longer_listed(site: Site) -> None:
    first, second = saved(site), saved(site, name="Terrace")
    archive_spot(first, by=None, now=NOON)
    assert spots_of(site) == [second]
    assert Spot.objects.count() == 2


def test_the_name_of_an_archived_spot_is_free_again(site: Site) -> None:
    archive_spot(saved(site), by=None, now=NOON)
    saved(site)
    assert Spot.objects.current().count() == 1


def test_a_spot_far_from_its_site_is_doubted(site: Site) -> None:
    assert doubts(saved(site, longitude=-1.4), None) == [
        "The spot lies 25 km from Hill: look at its position again."
    ]
    assert doubts(saved(site, name="Near", longitude=-1.3), None) == []


def test_a_spot_that_moved_says_what_is_still_as_seen_from_the_old_place(site: Site) -> None:
    before = saved(site, skyline=SKYLINE)
    after = Spot.objects.get()
    after.latitude += 0.001
    assert "still as seen from the old place" in doubts(after, before)[0]
    after.latitude = before.latitude + 0.0001
    assert doubts(after, before) == []


def test_a_spot_without_anything_measured_may_move(site: Site) -> None:
    before = saved(site)
    after = Spot.objects.get()
    after.latitude += 0.001
    assert doubts(after, before) == []


@pytest.fixture
def wanting(site: Site) -> Site:
    """Give the site with a season that wants a target."""
    wanted = TargetList.objects.create(organisation=site.organisation, name="Summer")
    TargetEntry.objects.create(target_list=wanted, target="planet:jupiter", name="Jupiter")
    make_season(site, target_list=wanted)
    return site


def test_a_new_spot_asks_for_its_windows(wanting: Site) -> None:
    saved(wanting)
    assert Job.objects.get().kind == Job.Kind.TARGET_WINDOWS


def with_windows(site: Site) -> Spot:
    """Give a spot of the site whose windows are there, with no work open."""
    spot = saved(site)
    for row in wanted_rows(TargetEntry.objects.get()):
        TargetWindows.objects.create(
            site=site, spot=spot, year=2027, spans=b"", bests=b"",
            fingerprint=windows_fingerprint(site, spot), **asdict(row),
        )  # fmt: skip
    Job.objects.all().delete()
    return spot


def test_an_edited_skyline_asks_for_windows_again(wanting: Site) -> None:
    spot = with_windows(wanting)
    spot.skyline = SKYLINE
    save_spot(spot)
    assert Job.objects.get().site == wanting


def test_an_edited_note_asks_for_nothing(wanting: Site) -> None:
    spot = with_windows(wanting)
    spot.notes = "Bring pegs"
    save_spot(spot)
    assert not Job.objects.exists()


def test_a_spot_where_nothing_is_wanted_asks_for_nothing(site: Site) -> None:
    saved(site)
    assert not Job.objects.exists()


def test_the_last_spot_that_is_archived_asks_for_windows_of_the_site_itself(wanting: Site) -> None:
    spot = saved(wanting)
    Job.objects.all().delete()
    archive_spot(spot, by=None, now=NOON)
    assert Job.objects.get().site == wanting


def test_a_landmark_whose_top_is_below_the_land_is_saved_and_asked_about(site: Site) -> None:
    spot = unsaved(site, skyline=[[0, 9.7], [180, 2]])
    save_spot(spot, landmarks=Changes([tower(azimuth_degrees=0.0, top_degrees=3.0)]))
    assert spot.landmarks.count() == 1
    assert doubts(spot, None) == [
        "The top of Tower (3°, the skyline 9.7°) is below the skyline there: is the land in front "
        "of it?"
    ]


def test_several_hidden_landmarks_are_asked_about_in_one_sentence(site: Site) -> None:
    spot = unsaved(site, skyline=[[0, 9.7], [180, 2]])
    low = tower(name="Kiln", azimuth_degrees=180.0, top_degrees=-50.0)
    save_spot(spot, landmarks=Changes([tower(azimuth_degrees=0.0, top_degrees=3.0), low]))
    (said,) = doubts(spot, None)
    assert said.startswith("The tops of ")
    assert "Kiln (−50°, the skyline 2°)" in said


@pytest.mark.parametrize("top", [9.3, 9.7, 12.0])
def test_a_landmark_on_the_skyline_or_over_it_is_not_doubted(site: Site, top: float) -> None:
    spot = unsaved(site, skyline=[[0, 9.7], [180, 2]])
    save_spot(spot, landmarks=Changes([tower(azimuth_degrees=0.0, top_degrees=top)]))
    assert doubts(spot, None) == []


@pytest.mark.parametrize(("top", "doubted"), [(-50.0, 1), (0.0, 0)])
def test_over_a_level_horizon_only_what_is_far_below_it_is_doubted(
    site: Site, top: float, doubted: int
) -> None:
    spot = unsaved(site)
    save_spot(spot, landmarks=Changes([tower(top_degrees=top)]))
    assert len(doubts(spot, None)) == doubted
