"""A place where the club photographs, with what a leader must know before driving there."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.edited import Edited, unique_name
from trips.models.organisation import Organisation
from trips.queries import ArchivableQuerySet


def all_months() -> list[int]:
    return list(range(1, 13))


class Site(Edited):
    class Access(models.TextChoices):
        YES = "yes", _("allowed at night")
        NO = "no", _("not allowed at night")
        PERMIT = "permit", _("by permit")
        UNKNOWN = "unknown", _("not known yet: ask the land manager")

    class Vehicle(models.TextChoices):
        ANY = "any", _("any car")
        HIGH = "high", _("high ground clearance")
        FOUR = "four", _("four-wheel drive")
        FOOT = "foot", _("on foot only")

    class Coverage(models.TextChoices):
        GOOD = "good", _("good")
        PATCHY = "patchy", _("patchy")
        NONE = "none", _("none")
        UNKNOWN = "unknown", _("not known")

    organisation = models.ForeignKey(Organisation, on_delete=models.CASCADE, related_name="sites")

    latitude = models.FloatField(
        _("latitude"), help_text=_("Degrees, north positive: 40.4 is north, −40.4 is south.")
    )
    longitude = models.FloatField(
        _("longitude"), help_text=_("Degrees, east positive: −1.1 is west of Greenwich.")
    )
    elevation_m = models.FloatField(_("elevation (m)"), default=0)
    zone = models.CharField(
        _("time zone"), max_length=64, help_text=_("Found from the position when left empty.")
    )
    position_is_sensitive = models.BooleanField(
        _("position is sensitive"),
        default=False,
        help_text=_("Shown to members only and left out of what is handed round."),
    )
    country = models.CharField(
        _("country"), max_length=2, blank=True, help_text=_("Two letters, ISO 3166-1: ES, NO.")
    )
    on_coast = models.BooleanField(
        _("on the coast"),
        default=False,
        help_text=_("Tides and waves are then among the cautions."),
    )

    sky_brightness = models.FloatField(
        _("measured sky brightness (mag/arcsec²)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(14), MaxValueValidator(22.5)],
        help_text=_("At the zenith, on a moonless night. Leave empty when nobody has measured."),
    )
    sky_measured_on = models.DateField(_("measured on"), null=True, blank=True)
    sky_circumstances = models.CharField(_("circumstances"), max_length=200, blank=True)
    # What the log has of the directions: lists of [azimuth, mag/arcsec²] at 30° up, ascending.
    sky_by_azimuth = models.JSONField(_("by direction"), default=list, blank=True, editable=False)
    extinction = models.FloatField(
        _("extinction (mag per airmass)"),
        default=0.172,
        validators=[MinValueValidator(0), MaxValueValidator(1)],
        help_text=_("What the air takes: about 0.12 on a high dry summit, 0.3 in summer haze."),
    )
    usable_loss_mag = models.FloatField(
        _("brightening that is borne (mag)"),
        default=0.2,
        validators=[MinValueValidator(0.05), MaxValueValidator(2)],
        help_text=_("The sky counts as usable while Moon and twilight brighten it by no more."),
    )

    drive_minutes = models.PositiveIntegerField(_("drive (minutes)"), null=True, blank=True)
    months_open = models.JSONField(_("months open"), default=all_months)
    road_closed_from = models.DateField(_("road closed from"), null=True, blank=True)
    road_closed_to = models.DateField(_("road closed to"), null=True, blank=True)
    night_access = models.CharField(
        _("night access"), max_length=8, choices=Access.choices, default=Access.UNKNOWN
    )
    permit_number = models.CharField(_("permit number"), max_length=60, blank=True)
    permit_lead_days = models.PositiveIntegerField(
        _("permit lead time (days)"), null=True, blank=True
    )
    largest_group = models.PositiveIntegerField(_("largest group"), null=True, blank=True)
    vehicle = models.CharField(
        _("vehicle"), max_length=8, choices=Vehicle.choices, default=Vehicle.ANY
    )
    phone_coverage = models.CharField(
        _("phone coverage"), max_length=8, choices=Coverage.choices, default=Coverage.UNKNOWN
    )
    nearest_signal = models.CharField(_("nearest signal"), max_length=200, blank=True)
    nearest_help = models.CharField(_("nearest help"), max_length=200, blank=True)
    # Proposed from the country, confirmed by somebody who typed it; never assumed.
    emergency_number = models.CharField(_("emergency number"), max_length=20, blank=True)
    minutes_to_help = models.PositiveIntegerField(_("minutes to help"), null=True, blank=True)
    notes = models.TextField(_("notes"), blank=True)

    objects = ArchivableQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        constraints = [
            unique_name("organisation", "site_name_unique_in_organisation"),
        ]


class Hazard(models.Model):
    """One danger of a site, by kind, in the words of somebody who has been there."""

    class Kind(models.TextChoices):
        EDGE = "edge", _("cliff or steep edge")
        WATER = "water", _("water, tide or waves")
        COLD = "cold", _("cold and wind")
        ICE = "ice", _("snow or ice")
        ROAD = "road", _("road or track")
        GROUND = "ground", _("rough ground, holes or mines")
        WILDLIFE = "wildlife", _("wildlife or livestock")
        FIRE = "fire", _("fire ban")
        PEOPLE = "people", _("hunting, military or other use")
        OTHER = "other", _("other")

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="hazards")
    # Of one spot of the site; without, of all of it.
    spot = models.ForeignKey(
        "trips.Spot", on_delete=models.CASCADE, null=True, blank=True, related_name="hazards"
    )
    kind = models.CharField(_("kind"), max_length=12, choices=Kind.choices)
    text = models.CharField(_("what and where"), max_length=300)

    class Meta:
        ordering = ["kind", "pk"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.text}"
