"""Tides, silence and cold of a trip's nights, from their rows."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from tests.conftest import FIRST, Cast
from trips.almanac.cold import MONTH, TYPED
from trips.models import Enrolment, Hazard, SiteMonth, TideTime, Trip, TripNight
from trips.services.night_cold import cold_of_night
from trips.services.planned_trip import TripRows, warnings_of
from trips.services.refusals import TripRefusedError
from trips.services.silence import calls_before, silence, silence_after, silence_before
from trips.services.tides import lacking, spring_words, why_not_confirmed
from trips.services.trips import step

pytestmark = pytest.mark.usefixtures("db")
LATER = datetime(2027, 2, 2, 12, tzinfo=UTC)


@pytest.fixture
def night(cast: Cast) -> TripNight:
    found: TripNight = TripNight.objects.select_related(
        "trip", "spot__site", "second_spot__site"
    ).get(pk=cast.trip_night.pk)
    return found


def on_the_coast(night: TripNight) -> TripNight:
    night.spot.site.on_coast = True
    night.spot.site.save()
    return night


def read_tides(night: TripNight) -> None:
    night.tide_datum, night.tide_source = "lowest astronomical tide", "the port's table"
    night.leave_spot_by = night.meeting_at + timedelta(hours=3)
    night.save()
    for kind, hour, height in (("high", 1, 4.1), ("low", 7, 0.6)):
        at = night.meeting_at + timedelta(hours=hour)
        TideTime.objects.create(night=night, kind=kind, at=at, height_m=height)


# Tides


def test_a_coast_trip_is_not_confirmed_before_somebody_read_the_tides(
    cast: Cast, night: TripNight
) -> None:
    assert cast.enrolment.place == 1
    for one in cast.trip.nights.all():
        on_the_coast(one)
    Trip.objects.filter(pk=cast.trip.pk).update(status=Trip.Status.OPEN)
    with pytest.raises(TripRefusedError, match="Monday 1 March 2027 is on a coast and lacks: high"):
        step(cast.trip, "confirmed", by=cast.instructor, now=LATER)
    for one in cast.trip.nights.all():
        read_tides(one)
    step(cast.trip, "confirmed", by=cast.instructor, now=LATER)
    assert Trip.objects.get(pk=cast.trip.pk).status == "confirmed"


def test_an_inland_trip_is_asked_for_no_tides(night: TripNight) -> None:
    assert lacking(night, []) == []
    assert why_not_confirmed([night]) == []


def test_a_second_spot_on_a_coast_counts(cast: Cast, night: TripNight) -> None:
    cast.far_site.on_coast = True
    cast.far_site.organisation = cast.club
    cast.far_site.save()
    night.second_spot = cast.far_site.spots.create(name="Quay", latitude=43.4, longitude=-4.0)
    assert len(lacking(night, [])) == 5


def test_spring_tides_are_said_near_new_moon_and_not_at_a_quarter(night: TripNight) -> None:
    """New Moon on 8 March 2027, 09:29 UTC (USNO phases, from memory; computed by the almanac)."""
    night.date, night.meeting_at = FIRST, datetime(2027, 3, 9, 18, tzinfo=UTC)
    night.date = night.meeting_at.date()
    assert "new Moon is on 8 March" in spring_words(night)
    night.meeting_at = datetime(2027, 3, 1, 18, tzinfo=UTC)
    night.date = FIRST
    assert spring_words(night) == ""


# Silence


def test_before_the_decision_silence_means_stay(night: TripNight) -> None:
    night.decision_at = datetime(2027, 3, 1, 15, tzinfo=UTC)
    said = "Decided at 16:00 at the club's notice board. If you hear nothing, do not set out."
    assert silence_before(night) == said
    assert silence(night, caller="Mara") == said


def test_a_decision_on_another_day_names_it(night: TripNight) -> None:
    night.decision_at = datetime(2027, 2, 28, 19, tzinfo=UTC)
    assert silence_before(night).startswith("Decided at 20:00 on Sunday 28 February at")


def test_after_it_silence_means_come_and_says_who_calls_before_when(night: TripNight) -> None:
    night.decision = TripNight.Decision.GO
    night.meeting_at = datetime(2027, 3, 1, 18, tzinfo=UTC)
    night.spot.site.drive_minutes = 75
    assert silence(night, caller="Mara Quist") == (
        "We go. Meet at 19:00: Car park below the wall; from there to Wall Corner. If that "
        "changes, Mara Quist calls you before 17:45. If you hear nothing, come."
    )


def test_never_one_rule_for_both(night: TripNight) -> None:
    assert "do not set out" in silence_before(night)
    assert "come" not in silence_before(night).split()[-1]
    night.decision = TripNight.Decision.GO
    assert "do not set out" not in silence_after(night, caller="Mara")


def test_a_night_called_off_tells_nobody_to_come(night: TripNight) -> None:
    night.decision = TripNight.Decision.NO_GO
    assert silence(night, caller="Mara") == "We do not go. Do not set out."


def test_without_an_hour_or_a_decision_silence_means_stay(night: TripNight) -> None:
    night.decision_at = None
    assert "do not set out" in silence(night, caller="Mara")
    assert "do not set out" in silence_after(night, caller="Mara")


def test_people_are_called_an_hour_before_meeting_where_the_drive_is_unknown(
    night: TripNight,
) -> None:
    assert night.meeting_at - calls_before(night) == timedelta(hours=1)


# Cold


def month(night: TripNight, number: int = 3, **facts: Any) -> SiteMonth:
    usual = {"low_c": -2.0, "humidity_percent": 85.0, "wind_kmh": 20.0, "source": "club's diary"}
    return SiteMonth(site=night.spot.site, month=number, **usual | facts)


def test_a_typed_forecast_comes_before_the_month(night: TripNight) -> None:
    night.air_c, night.humidity_percent = 4.0, 80.0
    cold = cold_of_night(night, [month(night)])
    assert cold is not None
    assert cold.air.how == TYPED
    assert cold.dew_point_c == pytest.approx(0.85, abs=0.05)
    # The month's wind does not go with the night's temperature.
    assert cold.wind_chill_c is None


def test_without_a_forecast_the_month_counts_and_no_other_one(night: TripNight) -> None:
    cold = cold_of_night(night, [month(night, 2, low_c=-9.0), month(night)])
    assert cold is not None
    assert (cold.air.how, cold.air.air_c, cold.air.source) == (MONTH, -2.0, "club's diary")
    # 13.12 + 0.6215 (−2) − 11.37 · 20^0.16 + 0.3965 (−2) 20^0.16, by hand
    assert cold.wind_chill_c == pytest.approx(-7.77, abs=0.01)


def test_without_either_nothing_is_known(night: TripNight) -> None:
    assert cold_of_night(night, [month(night, 4)]) is None


# Warnings from rows


def rows_of(cast: Cast, **facts: Any) -> TripRows:
    nights = list(cast.trip.nights.select_related("spot__site", "second_spot__site"))
    hazards = list(Hazard.objects.all())
    usual: dict[str, Any] = {
        "trip": cast.trip,
        "nights": nights,
        "placed": 4,
        "leaders": 1,
        "hazards": hazards,
    }
    return TripRows(**usual | facts)


def test_while_places_are_free_all_of_them_want_leaders(cast: Cast) -> None:
    """The site has an edge; the trip eight places."""
    draft = rows_of(cast)
    assert [one.code for one in warnings_of(draft)] == ["leaders", "leaders"]
    draft.trip.status = Trip.Status.CONFIRMED
    assert warnings_of(draft) == ()


def test_a_danger_of_another_spot_wants_no_leader(cast: Cast) -> None:
    here = cast.trip_night.spot
    other = cast.site.spots.create(name="Meadow", latitude=40.4, longitude=-1.1)
    assert here != other
    Hazard.objects.update(spot=other)
    assert warnings_of(rows_of(cast)) == ()


def test_a_coast_is_water_without_anybody_writing_it_down(cast: Cast) -> None:
    Hazard.objects.all().delete()
    cast.site.on_coast = True
    cast.site.save()
    assert {one.code for one in warnings_of(rows_of(cast))} == {"leaders"}


def test_the_trip_s_own_thresholds_count(cast: Cast) -> None:
    trip = cast.trip
    trip.people_per_leader = 8
    assert warnings_of(rows_of(cast, trip=trip)) == ()
    assert Enrolment.objects.count() == 0
