"""A trip's rows as the rules of `planning/trip_warnings.py` see them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from trips.models import Car, Drive, Hazard, Spot, Trip, TripNight
from trips.planning.trip_warnings import (
    PlannedNight,
    PlannedTrip,
    Thresholds,
    TripWarning,
    warnings,
)

# While people may still come, all places count.
FILLING = (Trip.Status.DRAFT, Trip.Status.OPEN)


@dataclass(frozen=True, slots=True)
class TripRows:
    """`placed` people have a place, `leaders` lead; hazards are those of the nights' sites."""

    trip: Trip
    nights: Sequence[TripNight]
    placed: int
    leaders: int
    hazards: Sequence[Hazard] = ()
    cars: Sequence[Car] = ()
    drives: Sequence[Drive] = ()

    @property
    def people(self) -> int:
        return self.trip.capacity if self.trip.status in FILLING else self.placed


def warnings_of(rows: TripRows) -> tuple[TripWarning, ...]:
    trip = rows.trip
    planned = PlannedTrip(
        nights=[_planned(night, rows) for night in rows.nights],
        people=rows.people,
        leaders=rows.leaders,
        drive_before_hours=trip.drive_before_hours,
        is_acclimatised=trip.is_acclimatised,
    )
    return warnings(planned, _limits(trip))


def hazards_of(night: TripNight, hazards: Iterable[Hazard]) -> list[Hazard]:
    """Give those of the night's spots and, without a spot, of their sites."""
    spots = [spot for spot in (night.spot, night.second_spot) if spot is not None]
    return [hazard for hazard in hazards if any(_is_there(hazard, spot) for spot in spots)]


def _is_there(hazard: Hazard, spot: Spot) -> bool:
    return hazard.site_id == spot.site_id and hazard.spot_id in (None, spot.pk)


def _planned(night: TripNight, rows: TripRows) -> PlannedNight:
    drives = [drive for drive in rows.drives if drive.night_id == night.pk]
    kinds = {str(hazard.kind) for hazard in hazards_of(night, rows.hazards)}
    if night.spot.site.on_coast or (night.second_spot and night.second_spot.site.on_coast):
        kinds.add(Hazard.Kind.WATER.value)
    return PlannedNight(
        date=night.date,
        zone=night.spot.site.zone,
        meeting_at=night.meeting_at,
        ends_at=night.ends_at,
        drive_minutes=night.drive_minutes,
        next_start_at=night.next_start_at,
        slept_at_m=night.slept_at_m,
        hazards=frozenset(kinds),
        drivers=frozenset(driver_key(drive) for drive in drives),
        seats=_seats(rows.cars, drives),
        leave_spot_by=night.leave_spot_by,
    )


def driver_key(drive: Drive) -> str:
    """Give what tells drivers apart: a participant as e7, an instructor as i3."""
    return f"e{drive.enrolment_id}" if drive.enrolment_id else f"i{drive.instructor_id}"


def _seats(cars: Sequence[Car], drives: Sequence[Drive]) -> int | None:
    """Only cars with a driver go, once a driver is named; before that all of them."""
    if not cars:
        return None
    going = {drive.car_id for drive in drives}
    return sum(car.seats for car in cars if not going or car.pk in going)


def _limits(trip: Trip) -> Thresholds:
    return Thresholds(
        rest_hours=trip.rest_hours,
        late_drive_hours=trip.late_drive_hours,
        late_drive_after=trip.late_drive_after,
        first_drive_hours=trip.first_drive_hours,
        late_nights_running=trip.late_nights_running,
        sleeping_height_m=trip.sleeping_height_m,
        people_per_leader=trip.people_per_leader,
    )
