"""A camera of the club: what its sensor is, and what its numbers mean in light."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.edited import Edited, unique_name
from trips.models.organisation import Organisation
from trips.queries import ArchivableQuerySet


class Camera(Edited):
    """`zero_point`: the mag/arcsec² of a sky that fills a pixel at f/1, ISO 1 in one second."""

    organisation = models.ForeignKey(Organisation, on_delete=models.CASCADE, related_name="cameras")

    sensor_width_mm = models.FloatField(
        _("sensor width (mm)"), validators=[MinValueValidator(1), MaxValueValidator(120)]
    )
    sensor_height_mm = models.FloatField(
        _("sensor height (mm)"), validators=[MinValueValidator(1), MaxValueValidator(120)]
    )
    pixels_wide = models.PositiveIntegerField(
        _("pixels across"), validators=[MinValueValidator(1), MaxValueValidator(100_000)]
    )
    pixels_high = models.PositiveIntegerField(
        _("pixels down"), validators=[MinValueValidator(1), MaxValueValidator(100_000)]
    )
    top_iso = models.PositiveIntegerField(
        _("highest ISO that you use"),
        default=12_800,
        validators=[MinValueValidator(100), MaxValueValidator(1_000_000)],
    )

    zero_point = models.FloatField(null=True, blank=True, editable=False)
    calibrated_on = models.DateField(null=True, blank=True, editable=False)
    calibrated_how = models.CharField(max_length=200, blank=True, editable=False)

    objects = ArchivableQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        constraints = [unique_name("organisation", "camera_name_unique_in_organisation")]
