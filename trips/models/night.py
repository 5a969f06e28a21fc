"""One computed night at one site: events as columns, spans as lists, hours for each dark level.

A night knows no season and no rank: seasons overlap, candidates are derived.
"""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.site import Site
from trips.queries import NightQuerySet


class Night(models.Model):
    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="nights")
    date = models.DateField(_("evening of"))
    # From local civil noon to the next, in UTC.
    start = models.DateTimeField()
    end = models.DateTimeField()

    sunset = models.DateTimeField(null=True)
    civil_dusk = models.DateTimeField(null=True)
    nautical_dusk = models.DateTimeField(null=True)
    astronomical_dusk = models.DateTimeField(null=True)
    astronomical_dawn = models.DateTimeField(null=True)
    nautical_dawn = models.DateTimeField(null=True)
    civil_dawn = models.DateTimeField(null=True)
    sunrise = models.DateTimeField(null=True)

    # Unix seconds, in order. Never queried.
    moonrises = models.JSONField(default=list)
    moonsets = models.JSONField(default=list)
    moon_illuminated = models.FloatField()
    moon_waxing = models.BooleanField()

    # Lists of [start, end] in Unix seconds. Never queried.
    dark_18 = models.JSONField(default=list)
    dark_15 = models.JSONField(default=list)
    dark_12 = models.JSONField(default=list)
    moonless_18 = models.JSONField(default=list)
    moonless_15 = models.JSONField(default=list)
    moonless_12 = models.JSONField(default=list)
    dark_hours_18 = models.FloatField()
    dark_hours_15 = models.FloatField()
    dark_hours_12 = models.FloatField()
    moonless_hours_18 = models.FloatField()
    moonless_hours_15 = models.FloatField()
    moonless_hours_12 = models.FloatField()

    # When Moon and twilight brighten the zenith by no more than the site bears: likewise spans.
    usable = models.JSONField(default=list)
    usable_hours = models.FloatField(default=0)

    # Event name → why it does not happen (`sun_never_sets`, `never_dark`, …).
    absent = models.JSONField(default=dict)
    # What it was computed from; differs from the site's present one when stale.
    fingerprint = models.CharField(max_length=64)

    objects = NightQuerySet.as_manager()

    class Meta:
        ordering = ["site", "date"]
        constraints = [models.UniqueConstraint(fields=["site", "date"], name="one_night_a_date")]

    def __str__(self) -> str:
        return f"{self.site_id} {self.date:%Y-%m-%d}"
