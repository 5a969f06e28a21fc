"""What is kept of people goes: unconfirmed after two days, the rest some days after the trip."""

from __future__ import annotations

import os
from datetime import timedelta
from pathlib import Path

import pytest
from django.core.management import call_command
from django.db import models
from pytest_django import Settings

from tests.trips.joined import EVENING, MEETING, again, asked, joined, make_joinable, placed
from tests.trips.making import NOON
from trips.models import (
    Car,
    Drive,
    Enrolment,
    Letter,
    OwnGear,
    Person,
    Trip,
    TripEvent,
    TripNight,
)
from trips.services import link_ends
from trips.services.forgetting import forget_due, forget_on_request
from trips.services.personal_data import COLUMNS, ROWS

pytestmark = pytest.mark.django_db

LAST_END = MEETING + timedelta(days=1, hours=6)
DUE = LAST_END + timedelta(days=90)
TEXTS = (models.CharField, models.TextField, models.JSONField, models.BinaryField)
# What a trip is, where it went, what was decided, and the lists of the house: nobody's.
STAYS = {
    "Trip.name", "Trip.included", "Trip.not_included", "Trip.invitation_hash",
    "TripNight.meeting_point", "TripNight.decision_place",
    "TripNight.tide_datum", "TripNight.tide_source",
    "Rota.what",
    "TripEvent.what", "TripEvent.detail",  # ids only: see trip_history
    "Letter.key", "Letter.kind",
    "TripInstructor.link_hash", "CalendarLink.link_hash",
    # Published for all who come; what is one person's own hangs on the enrolment.
    "BriefNote.part", "BriefNote.text", "Brief.facts", "Brief.parts", "Brief.changes",
    "BriefPicture.name", "BriefPicture.description", "BriefPicture.png",
}  # fmt: skip


def hang_on(roots: set[type[models.Model]], *, always: bool = False) -> set[type[models.Model]]:
    """Give these models and all whose rows go when theirs go; `always`: none of them stays."""
    found = set(roots)
    for model in roots:
        for one in model._meta.related_objects:
            goes = one.on_delete is models.CASCADE and not (always and one.field.null)
            if goes and isinstance(one.related_model, type):
                found.add(one.related_model)
    return found if found == roots else hang_on(found, always=always)


def texts_of(model: type[models.Model]) -> list[str]:
    """Give the columns in which somebody could be named."""
    return [
        field.name
        for field in model._meta.concrete_fields
        if isinstance(field, TEXTS) and not field.choices
    ]


@pytest.fixture
def trip() -> Trip:
    return make_joinable(contact_name="Mo", contact_mail="mo@home.example")


def test_who_does_not_confirm_is_forgotten_after_two_days(trip: Trip) -> None:
    asked(trip, "A")
    confirmed = joined(trip, "B")
    assert forget_due(now=NOON + timedelta(hours=47)).enrolments == 0
    gone = forget_due(now=NOON + timedelta(hours=48))
    assert (gone.enrolments, gone.people) == (1, 1)
    assert Enrolment.objects.get() == confirmed


def test_all_of_a_trips_people_go_when_their_days_are_over(trip: Trip) -> None:
    OwnGear.objects.create(enrolment=placed(trip, "A"), kind="lens")
    joined(trip, "B")
    forget_due(now=DUE - timedelta(seconds=1))
    assert Enrolment.objects.count() == 2
    gone = forget_due(now=DUE)
    assert (gone.enrolments, gone.people) == (2, 2)
    left = (OwnGear.objects.count(), Letter.objects.count(), Person.objects.count())
    assert left == (0, 0, 0)


def test_the_trip_its_nights_and_its_history_stay_and_name_nobody(trip: Trip) -> None:
    enrolment = placed(trip)
    forget_due(now=DUE)
    kept = Trip.objects.get()
    assert (kept.contact_name, kept.contact_mail) == ("", "")
    assert TripNight.objects.count() == 2
    assert TripEvent.objects.filter(enrolment_uid=enrolment.uid, what="placed").exists()
    assert "Ilse" not in str(list(TripEvent.objects.values()))
    assert forget_due(now=DUE).enrolments == 0
    assert TripEvent.objects.filter(what="all_forgotten").count() == 1


def test_every_column_that_can_name_somebody_is_decided_on() -> None:
    """What goes is `personal_data.py`; what stays with a trip is listed here, each for a reason."""
    hanging = hang_on({Trip})
    gone = hang_on(set(ROWS), always=True) | {Person}
    texts = {f"{model.__name__}.{name}" for model in hanging - gone for name in texts_of(model)}
    blanked = {f"{model.__name__}.{name}" for model, names in COLUMNS.items() for name in names}
    assert blanked < texts
    assert texts - blanked == STAYS


def test_a_car_goes_with_the_only_one_who_drives_it(trip: Trip) -> None:
    mine, other = placed(trip, "A"), placed(trip, "B")
    nights = trip.nights.order_by("date")
    cars = [Car.objects.create(trip=trip, name=name) for name in ("own", "shared", "nobody's")]
    for car, night, driver in ((0, 0, mine), (1, 0, other), (1, 1, mine)):
        Drive.objects.create(car=cars[car], night=nights[night], enrolment=driver)
    forget_on_request(mine, now=NOON)
    assert [car.name for car in Car.objects.order_by("pk")] == ["shared", "nobody's"]


def test_a_person_on_a_later_trip_stays_for_it(trip: Trip) -> None:
    placed(trip)
    later = make_joinable(site=trip.nights.all()[0].spot.site)
    later.nights.update(ends_at=LAST_END + timedelta(days=200))
    placed(later)
    forget_due(now=DUE)
    assert Person.objects.get().enrolments.get().trip == later


def test_a_trip_may_keep_for_less_long() -> None:
    trip = make_joinable(keep_days=0)
    placed(trip)
    assert forget_due(now=LAST_END).people == 1


def test_links_end_when_what_is_kept_goes_and_follow_the_nights(trip: Trip) -> None:
    mine, unconfirmed = joined(trip, "A"), asked(trip, "B")
    trip.nights.filter(date__gt=EVENING).delete()
    link_ends.set_ends(trip)
    assert again(mine).link_expires_at == DUE - timedelta(days=1)
    assert again(unconfirmed).link_expires_at == NOON + timedelta(days=2)


def test_the_command_deletes_what_is_due(trip: Trip, capsys: pytest.CaptureFixture[str]) -> None:
    placed(trip)
    TripNight.objects.update(meeting_at=NOON - timedelta(days=5000), ends_at=NOON - timedelta(4999))
    call_command("forget")
    assert "Deleted: 1 places and requests, 1 people." in capsys.readouterr().out
    assert not Person.objects.exists()


def test_letters_in_files_are_kept_for_a_week(tmp_path: Path, settings: Settings) -> None:
    settings.EMAIL_FILE_PATH = str(tmp_path)
    for name, age in (("old.log", timedelta(days=8)), ("new.log", timedelta(days=6))):
        (tmp_path / name).touch()
        os.utime(tmp_path / name, (0, (NOON - age).timestamp()))
    forget_due(now=NOON)
    assert [file.name for file in tmp_path.glob("*")] == ["new.log"]
