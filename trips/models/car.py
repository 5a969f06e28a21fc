"""Cars of a trip, and who drives each on which night."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from trips.models.enrolment import Enrolment
from trips.models.trip import Trip
from trips.models.trip_instructor import TripInstructor
from trips.models.trip_night import TripNight
from trips.queries import OfNightQuerySet, OfTripQuerySet


class Car(models.Model):
    trip = models.ForeignKey(Trip, on_delete=models.CASCADE, related_name="cars")
    name = models.CharField(
        _("car"), max_length=120, help_text=_("As rescuers would look for it: colour, plate.")
    )
    seats = models.PositiveSmallIntegerField(
        _("seats"), default=5, validators=[MinValueValidator(1), MaxValueValidator(60)]
    )

    objects = OfTripQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name


class Drive(models.Model):
    """A participant or an instructor at the wheel of one car on one night."""

    night = models.ForeignKey(TripNight, on_delete=models.CASCADE, related_name="drives")
    car = models.ForeignKey(Car, on_delete=models.CASCADE, related_name="drives")
    enrolment = models.ForeignKey(
        Enrolment, on_delete=models.CASCADE, null=True, blank=True, related_name="drives"
    )
    instructor = models.ForeignKey(
        TripInstructor, on_delete=models.CASCADE, null=True, blank=True, related_name="drives"
    )

    objects = OfNightQuerySet.as_manager()

    class Meta:
        ordering = ["night", "car"]
        constraints = [
            models.UniqueConstraint(fields=["night", "car"], name="one_driver_for_each_car"),
            models.UniqueConstraint(fields=["night", "enrolment"], name="participant_in_one_car"),
            models.UniqueConstraint(fields=["night", "instructor"], name="instructor_in_one_car"),
            models.CheckConstraint(
                condition=Q(enrolment=None) ^ Q(instructor=None), name="one_kind_of_driver"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.car_id} on {self.night_id}"
