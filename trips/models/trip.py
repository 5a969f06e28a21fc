"""A trip: a few nights for which people sign up, and the rules that its organiser sets for it."""

from __future__ import annotations

from datetime import time

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.edited import Versioned
from trips.models.organisation import Organisation
from trips.models.season import Season
from trips.models.target_list import TargetList
from trips.queries import MemberQuerySet

ONE_IN_THE_MORNING = time(1)


class Trip(Versioned):
    """Which steps lead from one status to which others is `planning/trip_steps.py`."""

    class Status(models.TextChoices):
        DRAFT = "draft", _("draft")
        OPEN = "open", _("open")
        FULL = "full", _("full")
        CONFIRMED = "confirmed", _("confirmed")
        RUNNING = "running", _("running")
        DONE = "done", _("done")
        CANCELLED = "cancelled", _("cancelled")

    organisation = models.ForeignKey(Organisation, on_delete=models.CASCADE, related_name="trips")
    # Whose run it was made from, if it was.
    season = models.ForeignKey(
        Season, on_delete=models.SET_NULL, null=True, blank=True, related_name="trips"
    )
    target_list = models.ForeignKey(
        TargetList,
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="trips",
        verbose_name=_("wanted targets"),
    )
    status = models.CharField(
        _("status"), max_length=9, choices=Status.choices, default=Status.DRAFT, editable=False
    )
    status_since = models.DateTimeField(null=True, editable=False)

    capacity = models.PositiveSmallIntegerField(
        _("places"), default=8, validators=[MinValueValidator(1), MaxValueValidator(500)]
    )
    least_people = models.PositiveSmallIntegerField(
        _("least number to run"), default=1, validators=[MinValueValidator(1)]
    )
    decided_by = models.DateField(
        _("decided by"),
        null=True,
        blank=True,
        help_text=_("The day by which people know whether it runs."),
    )
    give_back_until = models.DateField(_("place can be given back until"), null=True, blank=True)
    hold_hours = models.PositiveSmallIntegerField(
        _("hours a place is held"),
        default=72,
        validators=[MinValueValidator(1), MaxValueValidator(336)],
        help_text=_("From the confirmed mail until the person has said what a leader must know."),
    )
    is_public = models.BooleanField(
        _("open page"),
        default=False,
        help_text=_(
            "Anybody who knows the address may ask for a place; else only who has the invitation."
        ),
    )
    included = models.TextField(_("included"), blank=True, max_length=4000)
    not_included = models.TextField(_("not included"), blank=True, max_length=4000)
    includes_beds = models.BooleanField(_("beds are included"), default=False)
    includes_transport = models.BooleanField(_("transport is included"), default=False)
    cabin_length_cm = models.FloatField(
        _("longest piece in the cabin (cm)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(10), MaxValueValidator(300)],
        help_text=_("Of the airline that people fly with, if they do: ask it."),
    )
    cabin_weight_kg = models.FloatField(
        _("heaviest piece in the cabin (kg)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(50)],
    )
    notes = models.TextField(_("notes for the organisers"), blank=True, max_length=10_000)

    # Somebody who stays at home, and acts when a night is not closed.
    contact_name = models.CharField(_("contact at home"), max_length=120, blank=True)
    contact_phone = models.CharField(_("their phone"), max_length=40, blank=True)
    contact_mail = models.EmailField(_("their mail"), blank=True)
    call_out_margin_minutes = models.PositiveSmallIntegerField(
        _("margin before the call-out (minutes)"),
        default=60,
        validators=[MinValueValidator(15), MaxValueValidator(720)],
        help_text=_("On top of the planned end and the drive."),
    )
    contact_after_minutes = models.PositiveSmallIntegerField(
        _("minutes from the instructors' letter to the contact's"),
        default=15,
        validators=[MinValueValidator(0), MaxValueValidator(240)],
    )

    # When to warn: common practice, no published source.
    rest_hours = models.FloatField(
        _("hours of rest"), default=7.0, validators=[MinValueValidator(0), MaxValueValidator(24)]
    )
    late_drive_hours = models.FloatField(
        _("hours of driving late"),
        default=1.0,
        validators=[MinValueValidator(0), MaxValueValidator(24)],
    )
    late_drive_after = models.TimeField(_("late is after"), default=ONE_IN_THE_MORNING)
    first_drive_hours = models.FloatField(
        _("hours of driving before a first night"),
        default=4.0,
        validators=[MinValueValidator(0), MaxValueValidator(24)],
    )
    late_nights_running = models.PositiveSmallIntegerField(
        _("late nights running"), default=3, validators=[MinValueValidator(1)]
    )
    sleeping_height_m = models.PositiveSmallIntegerField(_("height to sleep at (m)"), default=2500)
    people_per_leader = models.PositiveSmallIntegerField(
        _("people for each leader"), default=6, validators=[MinValueValidator(1)]
    )
    is_acclimatised = models.BooleanField(_("a night at middle height comes first"), default=False)
    drive_before_hours = models.FloatField(
        _("longest drive before the first night (hours)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(48)],
    )

    keep_days = models.PositiveSmallIntegerField(
        _("personal data kept (days)"),
        default=90,
        validators=[MinValueValidator(0), MaxValueValidator(730)],
        help_text=_("After the last night; then it is deleted by itself."),
    )

    # The invitation: its own link, so that it can be revoked without touching anybody's place.
    invitation_generation = models.PositiveIntegerField(default=1, editable=False)
    invitation_hash = models.CharField(max_length=64, unique=True, editable=False)

    objects = MemberQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(least_people__lte=models.F("capacity")),
                name="trip_can_reach_its_least_number",
            ),
        ]
