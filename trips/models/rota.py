"""Turns at what not everybody can use at once: a spot with few tripods, the one tracker."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.enrolment import Enrolment
from trips.models.trip_night import TripNight
from trips.queries import OfNightQuerySet


class Rota(models.Model):
    night = models.ForeignKey(TripNight, on_delete=models.CASCADE, related_name="rotas")
    what = models.CharField(_("turns at"), max_length=120)
    starts_at = models.DateTimeField(_("from"))
    ends_at = models.DateTimeField(_("to"))
    stations = models.PositiveSmallIntegerField(
        _("side by side"),
        default=1,
        validators=[MinValueValidator(1), MaxValueValidator(100)],
        help_text=_("How many can work there at the same time."),
    )

    objects = OfNightQuerySet.as_manager()

    class Meta:
        ordering = ["starts_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(ends_at__gt=models.F("starts_at")), name="rota_not_reversed"
            ),
        ]

    def __str__(self) -> str:
        return self.what


class Turn(models.Model):
    """A slot that a person was given: it stays theirs when somebody else drops out."""

    rota = models.ForeignKey(Rota, on_delete=models.CASCADE, related_name="turns")
    enrolment = models.ForeignKey(Enrolment, on_delete=models.CASCADE, related_name="turns")
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    station = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["starts_at", "station"]
        constraints = [
            models.UniqueConstraint(fields=["rota", "enrolment"], name="one_turn_each"),
            models.UniqueConstraint(
                fields=["rota", "starts_at", "station"], name="station_used_once_at_a_time"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.enrolment_id} at {self.station} from {self.starts_at:%H:%M}"
