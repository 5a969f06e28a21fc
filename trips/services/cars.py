"""Cars of a trip, and who drives each on which night."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.models import Car, Drive, Enrolment, Trip, TripInstructor, TripNight, User
from trips.services.planned_trip import driver_key
from trips.services.refusals import TripRefusedError
from trips.services.trip_history import note

MOST_CARS = 20
Wheel = tuple[int, int]  # of a night and a car


@dataclass(frozen=True, slots=True)
class Driver:
    """Somebody who may drive: `key` is e7 for a participant, i3 for an instructor."""

    key: str
    name: str
    drove_last: date | None


@transaction.atomic
def save_cars(
    trip: Trip, *, kept: Sequence[Car], dropped: Sequence[Car], by: User, now: datetime,
    seen: Collection[int] = (),
) -> None:  # fmt: skip
    """Save cars that are new or changed, and take others off with their drivers.

    `seen` are the rows that the editor was shown: a new car like one that was not is that one, sent
    before by a button pressed twice.
    """
    unseen = Car.objects.filter(trip=trip).exclude(pk__in=seen)
    there = set(unseen.values_list("name", "seats"))
    for car in kept:
        if car.pk is None and (car.name, car.seats) in there:
            continue
        car.trip = trip
        car.save()
    for car in dropped:
        car.delete()
    note(trip, "cars", at=now, by=by)


@transaction.atomic
def set_drivers(trip: Trip, chosen: Mapping[Wheel, str], *, by: User, now: datetime) -> None:
    """Put these drivers in the place of all that the trip had; "" leaves a car at home.

    Errors: `TripRefusedError` for somebody at two wheels in one night, or not on the trip.
    """
    Trip.objects.select_for_update().get(pk=trip.pk)  # two editors: one after the other
    drivers = {one.key: one for one in drivers_of(trip)}
    wheels = {wheel: key for wheel, key in chosen.items() if key}
    _refuse_strangers(wheels, drivers)
    _refuse_two_wheels(trip, wheels, drivers)
    Drive.objects.filter(night__trip=trip).delete()
    Drive.objects.bulk_create(_drive(wheel, key) for wheel, key in wheels.items())
    note(trip, "drivers", at=now, by=by)


def cars_of(trip: Trip) -> tuple[list[Car], list[Drive]]:
    """Give the trip's cars, and who drives them when. One query for both; not to be saved."""
    cars: dict[int, Car] = {}
    drives: list[Drive] = []
    columns = ("drives__night_id", "drives__enrolment_id", "drives__instructor_id")
    rows = Car.objects.filter(trip=trip).order_by("pk").values_list("pk", "name", "seats", *columns)
    for pk, name, seats, night, enrolment, instructor in rows:
        cars.setdefault(pk, Car(pk=pk, trip=trip, name=name, seats=seats))
        if night is not None:
            drives.append(Drive(night_id=night, car_id=pk, enrolment_id=enrolment,
                                instructor_id=instructor))  # fmt: skip
    return list(cars.values()), drives


def drivers_of(trip: Trip) -> list[Driver]:
    """Give who may drive: those who lead, then those with a place, by name."""
    last = _last_drives(Drive.objects.filter(night__trip=trip).select_related("night"))
    leaders = TripInstructor.objects.filter(trip=trip).select_related("user")
    placed = Enrolment.objects.filter(trip=trip).with_a_place().select_related("person")
    people = sorted(placed, key=lambda one: (one.person.name.casefold(), one.pk))
    named = [
        *((f"i{one.pk}", str(one)) for one in leaders),
        *((f"e{one.pk}", one.person.name) for one in people),
    ]
    return [Driver(key, name, last.get(key)) for key, name in named]


def _last_drives(drives: Iterable[Drive]) -> dict[str, date]:
    last: dict[str, date] = {}
    for drive in drives:
        key, day = driver_key(drive), drive.night.date
        last[key] = max(day, last.get(key, day))
    return last


def _drive(wheel: Wheel, key: str) -> Drive:
    night, car = wheel
    of = "enrolment_id" if key[0] == "e" else "instructor_id"
    return Drive(night_id=night, car_id=car, **{of: int(key[1:])})


def _refuse_strangers(wheels: Mapping[Wheel, str], drivers: Mapping[str, Driver]) -> None:
    if any(key not in drivers for key in wheels.values()):
        raise TripRefusedError(_("Somebody who drives is no longer on the trip: choose again."))


def _refuse_two_wheels(
    trip: Trip, wheels: Mapping[Wheel, str], drivers: Mapping[str, Driver]
) -> None:
    seen: set[tuple[int, str]] = set()
    for (night, _car), key in wheels.items():
        if (night, key) in seen:
            day = TripNight.objects.get(trip=trip, pk=night).date
            words = _("%(name)s cannot drive two cars on %(night)s: choose somebody else for one.")
            told = {"name": drivers[key].name, "night": date_format(day, "j F Y")}
            raise TripRefusedError(words % told)
        seen.add((night, key))
