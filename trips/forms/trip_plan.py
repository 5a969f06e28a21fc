"""What the nights of a new trip share: which evenings, where, until when."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from typing import Any

from django import forms
from django.db.models import Q, QuerySet
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from trips.almanac.local_time import local
from trips.forms.fields import ClockField
from trips.forms.layout import Group, dress
from trips.models import Organisation, Season, Spot
from trips.services.trips import MOST_NIGHTS

USUAL_DECISION = time(16)
PLAN_GROUP = Group(
    "nights",
    gettext_lazy("The nights"),
    (
        "first_night",
        "last_night",
        "until",
        "spot",
        "second_spot",
        "meeting_point",
        "decision_clock",
        "decision_place",
    ),
    gettext_lazy(
        "When people meet is proposed for each night from sunset and what is wanted. Every night "
        "can be changed afterwards."
    ),
    is_folded=False,
)


class SpotField(forms.ModelChoiceField):  # type: ignore[type-arg]  # not subscriptable when it runs
    """A spot, named with its site."""

    def label_from_instance(self, obj: Any) -> str:
        return f"{obj.site.name}: {obj.name}"


class PlanForm(forms.Form):
    first_night = forms.DateField(
        label=gettext_lazy("First evening"), widget=forms.DateInput(attrs={"type": "date"})
    )
    last_night = forms.DateField(
        label=gettext_lazy("Last evening"),
        widget=forms.DateInput(attrs={"type": "date"}),
        required=False,
        help_text=gettext_lazy("Empty: one night."),
    )
    spot = SpotField(queryset=Spot.objects.none(), label=gettext_lazy("Spot"))
    second_spot = SpotField(
        queryset=Spot.objects.none(),
        required=False,
        label=gettext_lazy("Second spot"),
        empty_label=gettext_lazy("none"),
        help_text=gettext_lazy("Where you go when the first one is under cloud."),
    )
    meeting_point = forms.CharField(max_length=300, label=gettext_lazy("Meeting point"))
    until = ClockField(
        label=gettext_lazy("Ends at"),
        help_text=gettext_lazy("On the clocks of the site; before noon is the next morning."),
    )
    decision_clock = ClockField(
        required=False,
        label=gettext_lazy("Whether you go is decided at"),
        help_text=gettext_lazy("On the day itself."),
    )
    decision_place = forms.CharField(
        max_length=300, required=False, label=gettext_lazy("Where the decision is told")
    )
    season = forms.ModelChoiceField(
        queryset=Season.objects.none(), required=False, widget=forms.HiddenInput
    )
    # Pressed twice, it is one trip.
    uid = forms.UUIDField(widget=forms.HiddenInput, required=False)

    def __init__(
        self, *args: Any, organisation: Organisation, now: datetime, **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.now = now
        for name in ("spot", "second_spot"):
            self.fields[name].queryset = choosable_spots(organisation)  # type: ignore[attr-defined]
        self.fields["season"].queryset = organisation.seasons.all()  # type: ignore[attr-defined]
        self.fields["uid"].initial = uuid.uuid4()
        for name in ("meeting_point", "decision_place"):
            self.fields[name].widget.attrs |= {"autocomplete": "off", "dir": "auto"}
        dress(self)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        first, spot = cleaned.get("first_night"), cleaned.get("spot")
        if first and spot and first < local(self.now, spot.site.zone).date():
            self.add_error("first_night", _("That evening is over: write one that lies ahead."))
        if first:
            self._check_last(first, cleaned.get("last_night") or first)
        if spot and spot == cleaned.get("second_spot"):
            words = _("The second spot is the first one: choose another, or none.")
            self.add_error("second_spot", words)
        return cleaned

    def _check_last(self, first: date, last: date) -> None:
        count = (last - first).days + 1
        if count < 1:
            self.add_error("last_night", _("That is before the first evening."))
        elif count > MOST_NIGHTS:
            words = ngettext(
                "These are %(count)d nights; a trip has at most %(most)d night.",
                "These are %(count)d nights; a trip has at most %(most)d nights.",
                MOST_NIGHTS,
            )
            self.add_error("last_night", words % {"count": count, "most": MOST_NIGHTS})

    @property
    def evenings(self) -> list[date]:
        first = self.cleaned_data["first_night"]
        last = self.cleaned_data["last_night"] or first
        return [first + timedelta(days=n) for n in range((last - first).days + 1)]

    @property
    def season_of_nights(self) -> Season | None:
        """Give the season that the trip was asked from, if it holds the evenings as typed."""
        season: Season | None = self.cleaned_data["season"]
        typed = self.evenings
        holds = season and season.first_night <= typed[0] and typed[-1] <= season.last_night
        return season if holds else None


def choosable_spots(
    organisation: Organisation, *, kept: Sequence[int | None] = ()
) -> QuerySet[Spot]:
    """Give the organisation's spots; one that was put away, or whose site was, only if `kept`."""
    own = Spot.objects.filter(site__organisation=organisation)
    current = Q(archived_at=None, site__archived_at=None)
    chosen = Q(pk__in=[pk for pk in kept if pk is not None])
    return own.filter(current | chosen).select_related("site").order_by("site__name", "order", "pk")
