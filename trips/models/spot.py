"""Where tripods stand at a site: its own skyline, and what can be aimed at from there."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.edited import Edited, unique_name
from trips.models.site import Site
from trips.queries import OfSiteQuerySet


class Spot(Edited):
    """A site's first spot, by `order`, is the one that its seasons are judged from."""

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="spots")
    order = models.PositiveSmallIntegerField(_("order"), default=0)

    latitude = models.FloatField(_("latitude"))
    longitude = models.FloatField(_("longitude"))
    elevation_m = models.FloatField(_("elevation (m)"), default=0)
    tripods = models.PositiveSmallIntegerField(
        _("tripods"), null=True, blank=True, help_text=_("How many stand there side by side.")
    )
    walk_minutes = models.PositiveSmallIntegerField(_("minutes on foot"), null=True, blank=True)
    # Lists of [azimuth, apparent altitude] in degrees, ascending. Empty: not measured, level.
    skyline = models.JSONField(_("skyline"), default=list, blank=True)
    skyline_how = models.CharField(
        _("how it was measured"),
        max_length=200,
        blank=True,
        help_text=_("With what and when: the next leader must know how far to trust it."),
    )
    notes = models.TextField(_("notes"), blank=True)

    objects = OfSiteQuerySet.as_manager()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            unique_name("site", "spot_name_unique_at_site"),
        ]


class Landmark(models.Model):
    """Something to put a target over, where it is seen from one spot.

    Its direction is `azimuth_degrees`; a landmark typed by its position gets it from there.
    """

    spot = models.ForeignKey(Spot, on_delete=models.CASCADE, related_name="landmarks")
    name = models.CharField(_("name"), max_length=120)
    azimuth_degrees = models.FloatField(
        _("azimuth (°)"), validators=[MinValueValidator(0), MaxValueValidator(360)]
    )
    top_degrees = models.FloatField(
        _("altitude of its top (°)"),
        default=0,
        validators=[MinValueValidator(-90), MaxValueValidator(90)],
    )
    width_degrees = models.FloatField(
        _("width (°)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(180)],
    )
    face_degrees = models.FloatField(
        _("its face looks toward (°)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(360)],
        help_text=_("Azimuth at a right angle to the wall: a low Moon from the side shapes it."),
    )
    distance_m = models.FloatField(
        _("distance (m)"), null=True, blank=True, validators=[MinValueValidator(1)]
    )
    latitude = models.FloatField(_("latitude"), null=True, blank=True)
    longitude = models.FloatField(_("longitude"), null=True, blank=True)
    is_seen_at_night = models.BooleanField(
        _("seen against the night sky"),
        default=False,
        help_text=_("Directions in the dark are told from these."),
    )

    class Meta:
        ordering = ["azimuth_degrees", "pk"]

    def __str__(self) -> str:
        return self.name
