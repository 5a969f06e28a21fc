"""What is asked of alignments: read into an aim and nights, or refused in a sentence."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.http import QueryDict

from tests.conftest import FIRST, LAST, Cast
from trips.forms.alignments import AlignmentForm, Question, read_question
from trips.models import Season, Spot
from trips.services.spots import spots_of

TODAY = date(2027, 2, 1)
LONG = "x" * 10_000
SCRIPT = "<script>alert(1)</script>"
TYPED_FIELDS = (
    "target", "over", "azimuth", "altitude", "spot", "hours", "light", "season",
    "azimuth_tolerance", "altitude_tolerance", "first", "last",
)  # fmt: skip


def asked(cast: Cast, **typed: Any) -> tuple[AlignmentForm, Question | None]:
    """Ask of Jupiter in the cast's season."""
    assert cast.spot.pk
    query = QueryDict(mutable=True)
    query.update({"target": "Jupiter", "season": str(cast.season.pk)} | typed)
    return read_question(query, cast.site, spots_of(cast.site), today=TODAY)


def question(cast: Cast, **typed: Any) -> Question:
    form, found = asked(cast, **typed)
    assert found, form.errors
    return found


def mistakes(cast: Cast, **typed: Any) -> dict[str, list[str]]:
    form, found = asked(cast, **typed)
    assert (found is None) == bool(form.errors)
    return {name: [str(said) for said in errors] for name, errors in form.errors.items()}


def kiln(cast: Cast, **fields: float | None) -> str:
    """Give the number of the cast's landmark, toward 214° and 7° high, changed."""
    landmark = cast.spot.landmarks.get()
    for name, value in fields.items():
        setattr(landmark, name, value)
    landmark.save()
    return str(landmark.pk)


# The aim


def test_a_landmark_gives_its_azimuth_and_its_top(cast: Cast) -> None:
    found = question(cast, over=kiln(cast))
    assert (found.aim.azimuth_degrees, found.aim.least_altitude_degrees) == (214.0, 7.0)
    assert found.aim.altitude_degrees is None
    assert found.landmark == cast.spot.landmarks.get()


def test_an_azimuth_needs_no_landmark_and_counts_from_the_level(cast: Cast) -> None:
    found = question(cast, azimuth="214,5")
    assert (found.aim.azimuth_degrees, found.aim.least_altitude_degrees) == (214.5, 0.0)
    assert found.landmark is None


def test_a_landmark_below_the_level_does_not_let_targets_be_below_it(cast: Cast) -> None:
    assert question(cast, over=kiln(cast, top_degrees=-4.0)).aim.least_altitude_degrees == 0.0


@pytest.mark.parametrize(
    ("width", "tolerance"), [(None, 2.0), (0.0, 2.0), (6.0, 3.0), (0.02, 0.05), (180.0, 30.0)]
)
def test_half_the_width_of_a_landmark_is_its_tolerance_as_far_as_one_can_be(
    cast: Cast, width: float | None, tolerance: float
) -> None:
    aim = question(cast, over=kiln(cast, width_degrees=width)).aim
    assert aim.azimuth_tolerance_degrees == tolerance


def test_a_tolerance_that_is_typed_goes_before_the_width(cast: Cast) -> None:
    over = kiln(cast, width_degrees=6.0)
    assert question(cast, over=over, azimuth_tolerance="0.5").aim.azimuth_tolerance_degrees == 0.5


def test_tolerances_that_are_not_typed_are_two_degrees_and_one(cast: Cast) -> None:
    aim = question(cast, azimuth="214", altitude="20").aim
    assert (aim.azimuth_tolerance_degrees, aim.altitude_tolerance_degrees) == (2.0, 1.0)
    aim = question(cast, azimuth="214", altitude="20", altitude_tolerance="3").aim
    assert (aim.altitude_degrees, aim.altitude_tolerance_degrees) == (20.0, 3.0)


@pytest.mark.parametrize(
    ("stands_at", "typed"), [(214.0, "214"), (214.0, "214.04"), (359.98, "0.01"), (0.0, "360")]
)
def test_a_landmark_s_own_azimuth_may_be_typed_too(
    cast: Cast, stands_at: float, typed: str
) -> None:
    found = question(cast, over=kiln(cast, azimuth_degrees=stands_at), azimuth=typed)
    assert found.aim.azimuth_degrees == stands_at


def test_another_azimuth_than_the_landmark_s_is_refused(cast: Cast) -> None:
    said = mistakes(cast, over=kiln(cast), azimuth="215")
    assert said == {"azimuth": ["Kiln stands at 214°: empty this, or choose no landmark."]}


def test_without_landmark_and_azimuth_one_of_them_is_asked_for(cast: Cast) -> None:
    said = mistakes(cast)
    assert said == {"azimuth": ["Choose a landmark, or write an azimuth like 214."]}


# The place


def test_it_is_seen_from_the_landmark_s_spot_else_from_the_first(cast: Cast) -> None:
    over, own = kiln(cast), cast.spot
    Spot.objects.update(order=1)
    rim = Spot.objects.create(site=cast.site, name="Rim", latitude=40.4, longitude=-1.1, order=0)
    assert question(cast, over=over).spot == own
    assert question(cast, azimuth="214").spot == rim


def test_landmarks_of_another_site_are_no_choice(cast: Cast) -> None:
    far = Spot.objects.create(site=cast.far_site, name="Quay", latitude=43.4, longitude=-4.0)
    theirs = far.landmarks.create(name="Crane", azimuth_degrees=10.0)
    assert list(mistakes(cast, over=str(theirs.pk))) == ["over"]
    assert "Crane" not in str(asked(cast)[0])


# The nights


def test_the_nights_are_all_of_the_season_unless_dates_are_typed(cast: Cast) -> None:
    whole, part = question(cast, azimuth="1"), question(cast, azimuth="1", last="2027-03-09")
    assert (whole.first, whole.last, whole.is_whole_season) == (FIRST, LAST, True)
    assert (part.first, part.last, part.is_whole_season) == (FIRST, date(2027, 3, 9), False)


def test_two_dates_need_no_season(cast: Cast) -> None:
    found = question(cast, azimuth="1", season="", first="2030-01-01", last="2030-01-02")
    assert (found.first, found.last) == (date(2030, 1, 1), date(2030, 1, 2))
    assert found.season is None


def test_without_a_season_both_dates_are_asked_for(cast: Cast) -> None:
    said = "Choose a season, or write a date like 2027-03-09."
    assert mistakes(cast, azimuth="1", season="") == {"first": [said], "last": [said]}


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        ("2027-03-09", "2027-03-08", "is before the first"),
        ("2027-01-01", "2031-01-01", "more than three years"),
        ("1900-01-01", "1900-01-02", "outside the years"),
    ],
)
def test_nights_that_cannot_be_are_refused(cast: Cast, first: str, last: str, said: str) -> None:
    found = mistakes(cast, azimuth="1", season="", first=first, last=last)
    assert list(found) == ["last"]
    assert said in found["last"][0]


def test_before_anything_is_asked_the_season_that_comes_next_is_chosen(cast: Cast) -> None:
    past = Season.objects.create(
        organisation=cast.club, name="Past", first_night=date(2026, 1, 1),
        last_night=date(2026, 2, 1),
    )  # fmt: skip
    past.sites.add(cast.site)
    query = QueryDict(f"over={kiln(cast)}")
    form, found = read_question(query, cast.site, spots_of(cast.site), today=TODAY)
    assert found is None
    assert form.initial == {"over": kiln(cast), "season": str(cast.season.pk)}
    assert not form.is_bound


# What cannot be read


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("target", "", "No target is named; write one like Jupiter."),
        ("target", "Jupitre", "the nearest names are “Jupiter”"),
        ("target", "position:400,0", "400"),
        ("azimuth", "400", "400 is out of range: it must be from 0 to 360."),
        ("azimuth", "-1", "−1 is out of range"),
        ("azimuth", "south", "“south” is not a number; write it like 214."),
        ("azimuth", "nan", "“nan” is not a number"),
        ("altitude", "91", "91 is out of range"),
        ("azimuth_tolerance", "0", "0 is out of range: it must be from 0.05 to 30."),
        ("azimuth_tolerance", "-2", "−2 is out of range"),
        ("altitude_tolerance", "31", "31 is out of range"),
        ("light", "dusk", "“dusk” is not among the choices"),
        ("season", "0", "“0” is not among the choices"),
        ("over", "0", "“0” is not among the choices"),
        ("first", "2027-02-29", "That is no date of the calendar; write it like 2027-03-09."),
        ("last", "soon", "That is no date of the calendar"),
    ],
)
def test_what_cannot_be_read_is_said_at_its_field(
    cast: Cast, field: str, typed: str, said: str
) -> None:
    found = mistakes(cast, **{"azimuth": "214"} | {field: typed})
    assert list(found) == [field]
    assert len(found[field]) == 1
    assert said in found[field][0]


@pytest.mark.parametrize(
    "typed", ["400°", LONG, SCRIPT, "\x00", "1e999", "9" * 400, "\u202e☾", "-"]
)
def test_nothing_that_is_typed_anywhere_breaks_the_form(cast: Cast, typed: str) -> None:
    for field in TYPED_FIELDS:
        found = mistakes(cast, **{"azimuth": "214"} | {field: typed})
        assert list(found) == [field]
        (said,) = found[field]
        assert said.endswith(".")
        assert len(said.replace(typed, "…")) < 200


def test_no_field_of_the_form_is_left_out_above(cast: Cast) -> None:
    assert set(asked(cast)[0].fields) == set(TYPED_FIELDS)


def test_what_is_typed_is_shown_again_as_text(cast: Cast) -> None:
    for field in TYPED_FIELDS:
        shown = str(asked(cast, **{field: SCRIPT})[0])
        assert "&lt;script&gt;alert" in shown
        assert "<script" not in shown
