"""What people type about a night of a trip. Hours are on the clocks of its spot's site."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.dateparse import parse_date
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.spots import bearing_from
from trips.forms.fields import DecimalField
from trips.forms.layout import Group, dress
from trips.forms.meanwhile import OPENED
from trips.forms.of_model import decimal
from trips.forms.position import parted
from trips.forms.rows import Rows, rows_of
from trips.forms.site_clock import NightClockField, SiteMomentField
from trips.forms.trip_plan import SpotField, choosable_spots
from trips.models import Spot, TideTime, TripNight
from trips.planning.tide_rule import Water, misread

MOST_TIDES = 6
# Nobody knows the weather then: a year typed wrongly.
LONG_BEFORE = dt.timedelta(days=62)
MEETING = ("meeting_latitude", "meeting_longitude")
# Farther than people drive of an evening: a sign or a digit is wrong.
MOST_KM_TO_SPOT = 300
NIGHT_GROUPS = (
    Group(
        "night",
        gettext_lazy("When and where"),
        (
            "date",
            "meeting_at",
            "ends_at",
            "spot",
            "second_spot",
            "meeting_point",
            *MEETING,
            "drive_minutes",
        ),
        is_folded=False,
    ),
    Group(
        "decision",
        gettext_lazy("The decision whether you go"),
        ("decision_at", "decision_place"),
        gettext_lazy("Before that hour, whoever hears nothing does not set out."),
        is_folded=False,
    ),
    Group(
        "tides",
        gettext_lazy("Tides"),
        ("tide_datum", "tide_source", "leave_spot_by"),
        gettext_lazy("As an instructor read them in a tide table: nothing is computed here."),
    ),
    Group(
        "weather",
        gettext_lazy("Forecast for the night"),
        ("air_c", "humidity_percent", "wind_kmh"),
        gettext_lazy("Dew and wind chill follow from it; empty: the months of the site."),
    ),
    Group(
        "rest",
        gettext_lazy("Beds and the next morning"),
        ("slept_at_m", "next_start_at"),
        gettext_lazy("What the warnings of tiredness and height go by."),
    ),
)


class NightForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    date = forms.DateField(
        label=gettext_lazy("Evening of"), widget=forms.DateInput(attrs={"type": "date"})
    )
    spot = SpotField(queryset=Spot.objects.none(), label=gettext_lazy("Spot"))
    second_spot = SpotField(
        queryset=Spot.objects.none(),
        required=False,
        label=gettext_lazy("Second spot"),
        empty_label=gettext_lazy("none"),
        help_text=gettext_lazy("Where you go when the first one is under cloud."),
    )
    meeting_latitude = DecimalField(
        low=-90,
        high=90,
        example="40.4",
        required=False,
        label=gettext_lazy("Its latitude"),
        help_text=gettext_lazy(
            "For phones that lead people to the meeting point; both may be pasted here: 40.4, −1.1."
        ),
    )
    meeting_longitude = DecimalField(
        low=-180,
        high=180,
        example="−1.1",
        required=False,
        label=gettext_lazy("Its longitude"),
        help_text=gettext_lazy("Degrees, east positive: −1.1 is west of Greenwich."),
    )
    meeting_at = NightClockField(label=gettext_lazy("Meet at"))
    ends_at = NightClockField(
        label=gettext_lazy("Ends at"), help_text=gettext_lazy("Before noon is the next morning.")
    )
    decision_at = SiteMomentField(
        required=False,
        label=gettext_lazy("Decided at"),
        help_text=gettext_lazy("On the day itself; another day with its date: 2027-07-01 18:00."),
    )
    leave_spot_by = NightClockField(required=False, label=gettext_lazy("Spot must be left by"))
    next_start_at = SiteMomentField(
        required=False,
        days_later=1,
        label=gettext_lazy("Next drive or start"),
        help_text=gettext_lazy("The next day, when people must be up, if not for the next night."),
    )
    air_c = decimal(TripNight, "air_c", "4")
    humidity_percent = decimal(TripNight, "humidity_percent", "80")
    wind_kmh = decimal(TripNight, "wind_kmh", "15")
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    opened = forms.CharField(widget=forms.HiddenInput, required=False)
    instance: TripNight

    class Meta:
        model = TripNight
        fields = [name for group in NIGHT_GROUPS for name in group.fields]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.is_bound:
            self.data = parted(self.data, MEETING)
        night = self.instance
        chosen = (night.spot_id, night.second_spot_id)
        spots = choosable_spots(night.trip.organisation, kept=chosen)
        for name in ("spot", "second_spot"):
            self.fields[name].queryset = spots  # type: ignore[attr-defined]
        self.evening, self.zone = self._evening(), self._zone()
        set_clocks(self, self.evening, self.zone)
        for name in ("meeting_point", "decision_place", "tide_datum", "tide_source"):
            self.fields[name].widget.attrs |= {"autocomplete": "off", "dir": "auto"}
        dress(self)
        self.fields["version"].initial = self.instance.version
        self.fields[OPENED].initial = ""

    def _evening(self) -> dt.date | None:
        """Give the evening as it is typed: the hours are those of that night."""
        return _read_date(self.data.get("date", "")) if self.is_bound else self.instance.date

    def _zone(self) -> str:
        """Give the zone of the spot that is chosen."""
        spots: Any = self.fields["spot"]
        typed = str(self.data.get("spot", ""))
        chosen = next((one for one in spots.queryset if str(one.pk) == typed), self.instance.spot)
        return str(chosen.site.zone)

    def _check_meeting_point(self, cleaned: dict[str, Any]) -> None:
        """Half a position, or one on the other side of the Earth, leads nobody to the others."""
        latitude, longitude = (cleaned.get(name) for name in MEETING)
        if any(name in self.errors for name in (*MEETING, "spot")):
            return
        if latitude is None or longitude is None:
            if latitude != longitude:
                words = _("Half a position leads nobody there: write both angles, or none.")
                self.add_error(MEETING[longitude is None], words)
            return
        km = bearing_from(cleaned["spot"], latitude, longitude).distance_m / 1000
        if km > MOST_KM_TO_SPOT:
            words = _("That position lies %(km)d km from the spot; look at it again.")
            self.add_error(MEETING[0], words % {"km": round(km)})

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        self._check_meeting_point(cleaned)
        meeting, end = cleaned.get("meeting_at"), cleaned.get("ends_at")
        if meeting and end and end <= meeting:
            words = _("The night ends before people meet: put its end after that.")
            self.add_error("ends_at", words)
        decision = cleaned.get("decision_at")
        if decision and meeting and decision >= meeting:
            words = _("People would have set out: decide before they meet, and before their drive.")
            self.add_error("decision_at", words)
        elif decision and meeting and decision < meeting - LONG_BEFORE:
            words = _("That is more than two months before people meet: look at the date.")
            self.add_error("decision_at", words)
        leave = cleaned.get("leave_spot_by")
        if leave and meeting and leave <= meeting:
            words = _("People have not met by then: put the hour to leave the spot after that.")
            self.add_error("leave_spot_by", words)
        return cleaned


MISREAD = {
    "two_at_once": gettext_lazy("Two waters stand at the same hour: read the table once more."),
    "high_below_low": gettext_lazy(
        "A high water is not above the low water next to it: look at their heights, and which is "
        "which."
    ),
}


class TideForm(forms.ModelForm):  # type: ignore[type-arg]
    at = NightClockField(label=gettext_lazy("When"))
    height_m = decimal(TideTime, "height_m", "3.4")

    class Meta:
        model = TideTime
        fields = ["kind", "at", "height_m"]

    def __init__(self, *args: Any, evening: dt.date | None, zone: str, **options: Any) -> None:
        super().__init__(*args, **options)
        set_clocks(self, evening, zone)
        dress(self)


class TideRows(Rows):
    """What is no mistake in a row may be one of all of them together."""

    def clean(self) -> None:
        super().clean()
        if any(self.errors):
            return
        rows = [form.cleaned_data for form in self.forms if form not in self.deleted_forms]
        waters = [
            Water(row["at"], row["kind"] == TideTime.Kind.HIGH, row["height_m"])
            for row in rows
            if row.get("at")
        ]
        if code := misread(waters):
            raise ValidationError(str(MISREAD[code]))


TideFormSet: Any = rows_of(
    TripNight, TideTime, formset=TideRows, form=TideForm, extra=2, most=MOST_TIDES
)


def set_clocks(form: forms.BaseForm, evening: dt.date | None, zone: str) -> None:
    for field in form.fields.values():
        if isinstance(field, NightClockField | SiteMomentField):
            field.on(evening, zone)


def _read_date(text: str) -> dt.date | None:
    try:
        return parse_date(text.strip())
    except ValueError:
        return None
