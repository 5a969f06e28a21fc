"""What people type about turns: at what, from when to when, how many side by side."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.local_time import clock
from trips.forms.layout import Group, dress
from trips.forms.site_clock import NightClockField
from trips.forms.trip_night import set_clocks
from trips.models import Rota, TripNight

A_MINUTE = timedelta(minutes=1)
ROTA_GROUPS = (
    Group(
        "rota",
        gettext_lazy("Turns"),
        ("what", "starts_at", "ends_at", "stations"),
        is_folded=False,
    ),
)


class RotaForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    starts_at = NightClockField(label=gettext_lazy("From"))
    ends_at = NightClockField(
        label=gettext_lazy("To"), help_text=gettext_lazy("Before noon is the next morning.")
    )

    class Meta:
        model = Rota
        fields = ["what", "starts_at", "ends_at", "stations"]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        night = self.instance.night
        set_clocks(self, night.date, night.spot.site.zone)
        self.fields["what"].help_text = _("For example: the tracker, the edge by the wall.")
        self.fields["what"].widget.attrs |= {"autocomplete": "off", "dir": "auto"}
        dress(self)

    def clean(self) -> dict[str, Any]:
        cleaned, night = super().clean() or {}, self.instance.night
        starts, ends = cleaned.get("starts_at"), cleaned.get("ends_at")
        if starts and ends and ends <= starts:
            words = _("The turns end before they begin: put the end after the start.")
            self.add_error("ends_at", words)
        elif starts and ends and not _is_within(starts, ends, night):
            words = _("The night is from %(meeting)s to %(end)s: put the turns into it.")
            hours = {"meeting": night.meeting_at, "end": night.ends_at}
            zone = night.spot.site.zone
            told = {name: clock(instant, zone) for name, instant in hours.items()}
            self.add_error("starts_at", words % told)
        return cleaned


def _is_within(starts: datetime, ends: datetime, night: TripNight) -> bool:
    """Hours are typed to the minute."""
    return starts > night.meeting_at - A_MINUTE and ends < night.ends_at + A_MINUTE
