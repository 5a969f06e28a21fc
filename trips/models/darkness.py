"""The log of how dark a site was found: one measurement, and the circumstances it was made in."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.camera import Camera
from trips.models.site import Site
from trips.models.spot import Spot
from trips.models.user import User
from trips.queries import MemberOfSiteQuerySet


class DarknessReading(models.Model):
    """`azimuth_degrees` None: at the zenith; else 30° up in that direction."""

    class How(models.TextChoices):
        METER = "meter", _("with a meter")
        FRAME = "frame", _("from a test frame")
        # Of an evening, its hour not known.
        TYPED = "typed", _("typed in the site’s form")

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="darkness_readings")
    spot = models.ForeignKey(
        Spot, on_delete=models.SET_NULL, null=True, blank=True, related_name="darkness_readings"
    )
    at = models.DateTimeField(_("when"))
    magnitude = models.FloatField(
        _("mag/arcsec²"), validators=[MinValueValidator(10), MaxValueValidator(23)]
    )
    azimuth_degrees = models.FloatField(
        _("azimuth (°)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(360)],
    )
    moon_up = models.BooleanField(_("the Moon was up"), default=False)
    snow = models.BooleanField(_("snow on the ground"), default=False)
    milky_way_overhead = models.BooleanField(_("the Milky Way stood there"), default=False)
    how = models.CharField(_("how"), max_length=8, choices=How.choices, default=How.METER)
    # What a frame was taken with, while the club has it.
    camera = models.ForeignKey(
        Camera, on_delete=models.SET_NULL, null=True, blank=True, related_name="darkness_readings"
    )
    note = models.CharField(_("note"), max_length=200, blank=True)
    by = models.ForeignKey(User, on_delete=models.SET_NULL, null=True, related_name="+")

    objects = MemberOfSiteQuerySet.as_manager()

    class Meta:
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return f"{self.magnitude} {self.at:%Y-%m-%d}"
