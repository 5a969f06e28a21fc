"""A night of a trip: where and when people meet, when it ends, and what happened."""

from __future__ import annotations

import uuid

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.spot import Spot
from trips.models.trip import Trip
from trips.models.user import User
from trips.queries import OfTripQuerySet


class TripNight(models.Model):
    """Named by the evening's date. `call_out_at` follows from end, drive and margin."""

    class Decision(models.TextChoices):
        OPEN = "", _("not decided")
        GO = "go", _("we go")
        SECOND = "second", _("we go to the second spot")
        NO_GO = "no_go", _("we do not go")

    trip = models.ForeignKey(Trip, on_delete=models.CASCADE, related_name="nights")
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    version = models.PositiveIntegerField(default=1, editable=False)
    date = models.DateField(_("evening of"))
    spot = models.ForeignKey(
        Spot, on_delete=models.PROTECT, related_name="trip_nights", verbose_name=_("spot")
    )
    second_spot = models.ForeignKey(
        Spot,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="trip_nights_second",
        verbose_name=_("second spot"),
    )
    meeting_at = models.DateTimeField(_("meet at"))
    meeting_point = models.CharField(_("meeting point"), max_length=300)
    # Of the meeting point, for whoever is led there by a phone.
    meeting_latitude = models.FloatField(_("its latitude"), null=True, blank=True)
    meeting_longitude = models.FloatField(_("its longitude"), null=True, blank=True)
    ends_at = models.DateTimeField(_("ends at"))
    drive_minutes = models.PositiveSmallIntegerField(
        _("drive back (minutes)"), default=0, validators=[MaxValueValidator(1440)]
    )
    next_start_at = models.DateTimeField(
        _("next drive or start"),
        null=True,
        blank=True,
        help_text=_("When the people of this night must next be up, if not for the next night."),
    )
    slept_at_m = models.PositiveSmallIntegerField(
        _("height of the beds (m)"), null=True, blank=True, validators=[MaxValueValidator(6000)]
    )

    decision_at = models.DateTimeField(_("decided at"), null=True, blank=True)
    decision_place = models.CharField(_("where the decision is told"), max_length=300, blank=True)
    decision = models.CharField(
        max_length=8, choices=Decision.choices, default=Decision.OPEN, blank=True, editable=False
    )
    decided_at = models.DateTimeField(null=True, editable=False)
    decided_by = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, related_name="+", editable=False
    )

    # Of a coast: without these a night cannot be confirmed.
    tide_datum = models.CharField(_("datum of the heights"), max_length=120, blank=True)
    tide_source = models.CharField(_("source of the tides"), max_length=200, blank=True)
    leave_spot_by = models.DateTimeField(_("spot must be left by"), null=True, blank=True)

    # A forecast that somebody typed; else the site's monthly values.
    air_c = models.FloatField(
        _("lowest air temperature (°C)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(-70), MaxValueValidator(50)],
    )
    humidity_percent = models.FloatField(
        _("humidity (%)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(100)],
    )
    wind_kmh = models.FloatField(
        _("wind (km/h)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(300)],
    )

    # Off-site: if nobody closed the night by then, letters go out, each once.
    call_out_at = models.DateTimeField(editable=False)
    closed_at = models.DateTimeField(null=True, editable=False)
    closed_by = models.CharField(max_length=120, blank=True, editable=False)

    # Afterwards.
    oktas = models.PositiveSmallIntegerField(
        _("cloud (oktas)"), null=True, blank=True, validators=[MaxValueValidator(8)]
    )
    clear_hours = models.FloatField(
        _("clear hours"),
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(24)],
    )
    # A number, which stays when the people are deleted; who it was, the head count knows till then.
    came = models.PositiveSmallIntegerField(
        _("participants who came"), null=True, blank=True, validators=[MaxValueValidator(500)]
    )
    log_note = models.TextField(_("how it was"), blank=True, max_length=10_000)
    logged_at = models.DateTimeField(null=True, editable=False)
    logged_by = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, related_name="+", editable=False
    )

    objects = OfTripQuerySet.as_manager()

    class Meta:
        ordering = ["date"]
        indexes = [models.Index(fields=["closed_at", "call_out_at"], name="night_to_call_out")]
        constraints = [
            models.UniqueConstraint(fields=["trip", "date"], name="one_night_an_evening"),
            models.CheckConstraint(
                condition=models.Q(ends_at__gt=models.F("meeting_at")),
                name="night_ends_after_meeting",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.trip_id} {self.date}"


class TideTime(models.Model):
    """High or low water, as an instructor read it in a tide table."""

    class Kind(models.TextChoices):
        HIGH = "high", _("high water")
        LOW = "low", _("low water")

    night = models.ForeignKey(TripNight, on_delete=models.CASCADE, related_name="tides")
    kind = models.CharField(_("which"), max_length=4, choices=Kind.choices)
    at = models.DateTimeField(_("when"))
    height_m = models.FloatField(
        _("height (m)"), validators=[MinValueValidator(-20), MaxValueValidator(20)]
    )

    class Meta:
        ordering = ["at"]

    def __str__(self) -> str:
        return f"{self.kind} {self.at:%Y-%m-%d %H:%M} {self.height_m} m"
