"""A stretch of nights in which an organisation looks for dates, at some of its sites."""

from __future__ import annotations

from datetime import time

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.edited import Edited, unique_name
from trips.models.organisation import Organisation
from trips.models.site import Site
from trips.models.target_list import TargetList
from trips.queries import ArchivableQuerySet

TWO_IN_THE_MORNING = time(2)


def every_weekday() -> list[int]:
    return list(range(7))


class Season(Edited):
    class DarkLevel(models.IntegerChoices):
        ASTRONOMICAL = -18, _("Sun 18° down")
        DEEP_TWILIGHT = -15, _("Sun 15° down")
        NAUTICAL = -12, _("Sun 12° down")

    organisation = models.ForeignKey(Organisation, on_delete=models.CASCADE, related_name="seasons")

    first_night = models.DateField(_("first night"), help_text=_("The date of its evening."))
    last_night = models.DateField(_("last night"), help_text=_("At most three years later."))
    sites = models.ManyToManyField(Site, related_name="seasons", verbose_name=_("sites"))
    dark_level = models.SmallIntegerField(
        _("dark when"), choices=DarkLevel.choices, default=DarkLevel.ASTRONOMICAL
    )
    out_from = models.TimeField(
        _("out from"), null=True, blank=True, help_text=_("Local time; empty means civil dusk.")
    )
    out_until = models.TimeField(
        _("out until"),
        default=TWO_IN_THE_MORNING,
        help_text=_("Local time; an hour before noon is the next morning."),
    )
    most_hours_out = models.FloatField(
        _("most hours out in a night"),
        default=4.0,
        validators=[MinValueValidator(0.5), MaxValueValidator(24)],
    )
    least_hours = models.FloatField(
        _("least hours of a candidate night"),
        default=2.0,
        validators=[MinValueValidator(0), MaxValueValidator(24)],
        help_text=_("Moonless, dark and inside the hours you stay out."),
    )

    target_list = models.ForeignKey(
        TargetList,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="seasons",
        verbose_name=_("wanted targets"),
        help_text=_("Nights count by the hours in which one of them stands right."),
    )

    # Lists that somebody tried beside the season's own: their windows are computed too.
    tried_lists = models.ManyToManyField(
        TargetList, related_name="tried_by", blank=True, editable=False
    )

    run_length = models.PositiveSmallIntegerField(
        _("nights in a run"),
        default=3,
        validators=[MinValueValidator(1), MaxValueValidator(14)],
        help_text=_("How many nights in a row a workshop takes."),
    )
    # Monday is 0. Never queried.
    weekdays = models.JSONField(_("evenings that suit"), default=every_weekday)
    # Lists of [first, last] evenings as ISO dates. Never queried.
    avoid = models.JSONField(_("dates to avoid"), default=list, blank=True)

    objects = ArchivableQuerySet.as_manager()

    class Meta:
        ordering = ["-first_night", "name"]
        constraints = [
            unique_name("organisation", "season_name_unique_in_organisation"),
            models.CheckConstraint(
                condition=models.Q(last_night__gte=models.F("first_night")),
                name="season_not_reversed",
            ),
        ]
