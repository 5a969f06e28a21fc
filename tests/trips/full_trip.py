"""A trip with everything that its board shows: people, gear, loans, turns, cars, ticks, waters."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from uuid import uuid4

from trips.models import (
    Car,
    Drive,
    Enrolment,
    Loan,
    LoanItem,
    OwnGear,
    Person,
    Rota,
    Tick,
    TideTime,
    Trip,
    TripNight,
    Turn,
)
from trips.planning.gear import Camera, Lens, Piece, Support, Tracker
from trips.planning.gear.kinds import NAMES, written
from trips.services.links import sign

BAG = (
    Camera(sensor_width_mm=36, sensor_height_mm=24, pixels_wide=6000, pixels_high=4000),
    Lens(focal_mm=24, widest_f_number=1.8),
    Lens(focal_mm=70, longest_mm=200, widest_f_number=2.8),
    Support(leg_mm=28, sections=3, leg_lock="twist", height_cm=150),
)


def fill(trip: Trip, people: int, *, now: datetime) -> None:
    """Give so many people places and gear, and each night what it can have."""
    rows = [_enrol(trip, n, now) for n in range(1, people + 1)]
    OwnGear.objects.bulk_create(_own(row, piece) for row in rows for piece in BAG)
    kit = [_in_kit(trip, n) for n in range(4)]
    cars = [Car.objects.create(trip=trip, name=f"White van {n}", seats=9) for n in range(5)]
    for night in trip.nights.all():
        _night(night, rows, kit, cars, now)


def _night(
    night: TripNight, rows: list[Enrolment], kit: list[LoanItem], cars: list[Car], now: datetime
) -> None:
    Loan.objects.bulk_create(
        Loan(item=item, night=night, evening=night.date, enrolment=row)
        for item, row in zip(kit, rows, strict=False)
    )
    Drive.objects.bulk_create(
        Drive(night=night, car=car, enrolment=row) for car, row in zip(cars, rows, strict=False)
    )
    for kind, hours in (("high", 1), ("low", 5)):
        at = night.meeting_at + timedelta(hours=hours)
        TideTime.objects.create(night=night, kind=kind, at=at, height_m=2.0)
    begin = night.meeting_at
    rota = Rota.objects.create(night=night, what="The kiln", starts_at=begin,
                               ends_at=begin + timedelta(hours=4), stations=4)  # fmt: skip
    Turn.objects.bulk_create(_turns(rota, rows))
    instructor = night.trip.instructors.first()
    Tick.objects.bulk_create(
        Tick(client_uid=uuid4(), night=night, enrolment=row, instructor=instructor, kind="here",
             at=now, received_at=now)
        for row in rows
    )  # fmt: skip


def _turns(rota: Rota, rows: list[Enrolment]) -> Iterator[Turn]:
    for n, row in enumerate(rows):
        start = rota.starts_at + timedelta(minutes=15 * (n // rota.stations))
        yield Turn(rota=rota, enrolment=row, station=n % rota.stations + 1, starts_at=start,
                   ends_at=start + timedelta(minutes=15))  # fmt: skip


def _enrol(trip: Trip, n: int, now: datetime) -> Enrolment:
    person = Person.objects.create(
        organisation=trip.organisation, name=f"Person {n:02}", mail=f"p{n}@calder.example"
    )
    row = Enrolment(trip=trip, person=person, state="placed", place=n, asked_at=now,
                    placed_at=now)  # fmt: skip
    sign(row)
    row.save()
    return row


def _own(row: Enrolment, piece: Piece) -> OwnGear:
    return OwnGear(enrolment=row, kind=NAMES[type(piece)], name=piece.name, spec=written(piece))


def _in_kit(trip: Trip, n: int) -> LoanItem:
    piece = Tracker(name=f"Tern {n}", payload_kg=5)
    item: LoanItem = LoanItem.objects.create(
        organisation=trip.organisation,
        kind=NAMES[type(piece)],
        name=piece.name,
        spec=written(piece),
    )
    return item
