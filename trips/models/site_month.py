"""What a month is like at a site by night, as its club found or read it."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.site import Site
from trips.queries import MemberOfSiteQuerySet


class SiteMonth(models.Model):
    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="months")
    month = models.PositiveSmallIntegerField(
        _("month"), validators=[MinValueValidator(1), MaxValueValidator(12)]
    )
    low_c = models.FloatField(
        _("usual low (°C)"), validators=[MinValueValidator(-70), MaxValueValidator(50)]
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
    source = models.CharField(_("source"), max_length=200, blank=True)

    objects = MemberOfSiteQuerySet.as_manager()

    class Meta:
        ordering = ["month"]
        constraints = [
            models.UniqueConstraint(fields=["site", "month"], name="site_month_once"),
        ]

    def __str__(self) -> str:
        return f"{self.site_id} {self.month}"
