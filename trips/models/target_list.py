"""What an organisation wants to photograph, with how much each counts."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.edited import Edited, unique_name
from trips.models.organisation import Organisation
from trips.queries import ArchivableQuerySet


class TargetList(Edited):
    organisation = models.ForeignKey(
        Organisation, on_delete=models.CASCADE, related_name="target_lists"
    )

    notes = models.TextField(_("notes"), blank=True)

    objects = ArchivableQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        constraints = [
            unique_name("organisation", "target_list_name_unique_in_organisation"),
        ]


class TargetEntry(models.Model):
    """A target of a list. What is left empty is as its kind has it."""

    class Light(models.TextChoices):
        MOONLESS = "moonless", _("dark, without the Moon")
        USABLE = "usable", _("usable dark")
        DARK = "dark", _("dark, any Moon")
        TWILIGHT = "twilight", _("twilight")
        MOONLIT = "moonlit", _("moonlit foreground")
        ANY = "any", _("any light")

    target_list = models.ForeignKey(TargetList, on_delete=models.CASCADE, related_name="entries")
    order = models.PositiveSmallIntegerField(_("order"), default=0)
    # "kind:rest", checked in services.
    target = models.CharField(_("target"), max_length=120)
    name = models.CharField(_("name"), max_length=120)
    light = models.CharField(_("light"), max_length=8, choices=Light.choices, blank=True)
    least_altitude_degrees = models.FloatField(
        _("least altitude (°)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(-5), MaxValueValidator(90)],
    )
    field_degrees = models.FloatField(
        _("field (°)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(0.1), MaxValueValidator(360)],
        help_text=_("How wide the picture should be."),
    )
    weight = models.FloatField(
        _("weight"),
        default=1.0,
        validators=[MinValueValidator(0), MaxValueValidator(1)],
        help_text=_("From 0 to 1: what an hour of it is worth beside an hour of the best."),
    )

    class Meta:
        ordering = ["order", "pk"]

    def __str__(self) -> str:
        return self.name
