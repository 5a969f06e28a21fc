"""What people type about a trip: its places, what is included, when to warn, who stays at home."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.db.models import Q, QuerySet
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.forms.layout import Group, dress
from trips.forms.meanwhile import OPENED, values_of, written
from trips.forms.of_model import clock, decimal
from trips.models import TargetList, Trip

PACKAGE = gettext_lazy(
    "Teaching sold together with beds or transport may be a package by law, with duties of its "
    "own: ask before you offer it."
)
TRIP_GROUPS = (
    Group(
        "people",
        gettext_lazy("The trip and its places"),
        ("name", "target_list", "capacity", "least_people", "decided_by", "give_back_until"),
        gettext_lazy("Nothing is paid here: prices and money are settled elsewhere."),
        is_folded=False,
    ),
    Group(
        "joining",
        gettext_lazy("Joining"),
        ("is_public", "hold_hours", "keep_days"),
        gettext_lazy("Who may ask for a place, and how long what they tell is kept."),
    ),
    Group(
        "included",
        gettext_lazy("What is included"),
        ("included", "not_included", "includes_beds", "includes_transport"),
        PACKAGE,
    ),
    Group(
        "contact",
        gettext_lazy("Contact at home"),
        (
            "contact_name",
            "contact_phone",
            "contact_mail",
            "call_out_margin_minutes",
            "contact_after_minutes",
        ),
        gettext_lazy("Who acts when nobody has said that everybody is back."),
    ),
    Group(
        "journey",
        gettext_lazy("Getting there"),
        ("drive_before_hours", "is_acclimatised", "cabin_length_cm", "cabin_weight_kg"),
        gettext_lazy("For the warnings of tiredness and height, and what tripods must fit into."),
    ),
    Group(
        "warnings",
        gettext_lazy("When to warn"),
        (
            "rest_hours",
            "late_drive_hours",
            "late_drive_after",
            "first_drive_hours",
            "late_nights_running",
            "sleeping_height_m",
            "people_per_leader",
        ),
        gettext_lazy("Common practice, no published source: change what does not suit you."),
    ),
    Group("notes", gettext_lazy("Notes"), ("notes",)),
)
# What stands beside a field: a limit says which way it is one; the model names the quantity alone.
LABELS = {
    "contact_after_minutes": gettext_lazy("Contact is written to after (minutes)"),
    "rest_hours": gettext_lazy("Least hours of rest"),
    "late_drive_hours": gettext_lazy("Most hours of driving late"),
    "first_drive_hours": gettext_lazy("Most hours of driving before the first night"),
    "late_nights_running": gettext_lazy("Late nights running that are too many"),
    "sleeping_height_m": gettext_lazy("Greatest height to sleep at (m)"),
    "people_per_leader": gettext_lazy("Most people for each leader"),
}
TRIP_FIELDS = tuple(name for group in TRIP_GROUPS for name in group.fields)


class TripForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    """`first_night` is what the other dates are held against, where it is known; `today` is where
    the trip is."""

    rest_hours = decimal(Trip, "rest_hours", "7")
    late_drive_hours = decimal(Trip, "late_drive_hours", "1")
    late_drive_after = clock(Trip, "late_drive_after")
    first_drive_hours = decimal(Trip, "first_drive_hours", "4")
    drive_before_hours = decimal(Trip, "drive_before_hours", "3.5")
    cabin_length_cm = decimal(Trip, "cabin_length_cm", "55")
    cabin_weight_kg = decimal(Trip, "cabin_weight_kg", "8")
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    opened = forms.CharField(widget=forms.HiddenInput, required=False)
    instance: Trip

    class Meta:
        model = Trip
        fields = TRIP_FIELDS
        widgets = {
            "decided_by": forms.DateInput(attrs={"type": "date"}),
            "give_back_until": forms.DateInput(attrs={"type": "date"}),
        }

    def __init__(
        self, *args: Any, today: date, first_night: date | None = None, **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.today, self.first_night = today, first_night
        for name, label in LABELS.items():
            self.fields[name].label = label
        dress(self)
        wanted: Any = self.fields["target_list"]
        wanted.queryset = _choosable_lists(self.instance)
        wanted.empty_label = _("none: the dark alone counts")
        self.fields["version"].initial = self.instance.version
        self.fields[OPENED].initial = written(values_of(self)) if self.instance.pk else ""

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        least, capacity = cleaned.get("least_people"), cleaned.get("capacity")
        if least and capacity and least > capacity:
            words = _("%(least)d people cannot come to %(capacity)d places: lower it to that.")
            self.add_error("least_people", words % {"least": least, "capacity": capacity})
        for name in ("decided_by", "give_back_until"):
            self._check_day(name, cleaned.get(name))
        return cleaned

    def _check_day(self, name: str, day: date | None) -> None:
        if day and day < self.today and name in self.changed_data:
            self.add_error(name, _("That day is over: write one that lies ahead."))
        elif day and self.first_night and day > self.first_night:
            words = _("That is after the first night, %(night)s: put it on that day or before.")
            self.add_error(name, words % {"night": date_format(self.first_night, "j F Y")})


def _choosable_lists(trip: Trip) -> QuerySet[TargetList]:
    """Give the organisation's lists; an archived one stays where it was already chosen."""
    own = TargetList.objects.filter(organisation=trip.organisation_id)
    return own.filter(Q(archived_at=None) | Q(pk=trip.target_list_id))
