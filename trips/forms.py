"""What people type, read and checked. The deeds behind the forms are services."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.db.models import Q, QuerySet
from django.http import HttpRequest
from django.utils.dates import MONTHS
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac import places
from trips.almanac.dates import check_dates
from trips.almanac.local_time import local
from trips.almanac.wording import SkyError, sentence
from trips.countries import country_codes
from trips.evenings import tell_evenings
from trips.fields import (
    ClockField,
    DecimalField,
    EveningsField,
    WeekdaysField,
    as_number,
    hours_refused,
)
from trips.form_layout import dress
from trips.meanwhile import OPENED, values_of, written
from trips.models import Hazard, Season, Site
from trips.typed_position import read_angle, read_position


class SignInForm(AuthenticationForm):
    username = forms.EmailField(
        label=gettext_lazy("E-mail"),
        widget=forms.EmailInput(attrs={"autofocus": True, "autocomplete": "username"}),
    )

    error_messages = AuthenticationForm.error_messages | {
        "invalid_login": gettext_lazy(
            "That e-mail and that password do not go together. Capitals count in the password."
        ),
    }

    def __init__(self, request: HttpRequest | None = None, **options: Any) -> None:
        super().__init__(request, **options)
        self.fields["password"].label = gettext_lazy("Password")

    def clean_username(self) -> str:
        # One spelling, or each way of writing capitals would have its own count of guesses.
        return str(self.cleaned_data["username"]).lower()


class MaybePastedInput(forms.TextInput):
    """A browser must let it be empty: the field before it may hold both angles."""

    def use_required_attribute(self, initial: Any) -> bool:  # noqa: ARG002 - the widget's way
        return False


class SiteForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    """A site. Its position is echoed in plain words before anything is saved.

    `seen` holds the position and zone that were echoed last: only what a person has seen is saved.
    """

    latitude = DecimalField(
        low=-90,
        high=90,
        example="40.4",
        label=gettext_lazy("Latitude"),
        help_text=gettext_lazy(
            "Degrees, north positive: −40.4 is south. Both may be pasted here: 40.4, −1.1."
        ),
    )
    longitude = DecimalField(
        low=-180,
        high=360,
        example="−1.1",
        widget=MaybePastedInput,
        label=gettext_lazy("Longitude"),
        help_text=gettext_lazy("Degrees, east positive: −1.1 is west of Greenwich."),
    )
    elevation_m = DecimalField(
        low=-450, high=9000, example="1600", label=gettext_lazy("Elevation (m)")
    )
    sky_brightness = DecimalField(
        low=14,
        high=22.5,
        example="21.6",
        required=False,
        label=gettext_lazy("Measured sky brightness (mag/arcsec²)"),
        help_text=gettext_lazy(
            "At the zenith, on a moonless night. Leave empty when nobody has measured."
        ),
    )
    largest_group = forms.IntegerField(
        min_value=1, required=False, label=gettext_lazy("Largest group")
    )
    permit_lead_days = forms.IntegerField(
        min_value=0,
        required=False,
        label=gettext_lazy("Permit lead time (days)"),
        help_text=gettext_lazy("How long before the night it must be asked for."),
    )
    months_open = forms.TypedMultipleChoiceField(
        label=gettext_lazy("Months open"),
        coerce=int,
        choices=list(MONTHS.items()),
        widget=forms.CheckboxSelectMultiple,
    )
    instance: Site
    seen = forms.CharField(widget=forms.HiddenInput, required=False)
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    opened = forms.CharField(widget=forms.HiddenInput, required=False)

    class Meta:
        model = Site
        fields = [
            "name",
            "latitude",
            "longitude",
            "elevation_m",
            "zone",
            "position_is_sensitive",
            "country",
            "on_coast",
            "sky_brightness",
            "sky_measured_on",
            "sky_circumstances",
            "drive_minutes",
            "months_open",
            "road_closed_from",
            "road_closed_to",
            "night_access",
            "permit_number",
            "permit_lead_days",
            "largest_group",
            "vehicle",
            "phone_coverage",
            "nearest_signal",
            "nearest_help",
            "minutes_to_help",
            "notes",
        ]
        widgets = {
            "sky_measured_on": forms.DateInput(attrs={"type": "date"}),
            "road_closed_from": forms.DateInput(attrs={"type": "date"}),
            "road_closed_to": forms.DateInput(attrs={"type": "date"}),
        }

    def __init__(self, *args: Any, now: datetime, **options: Any) -> None:
        super().__init__(*args, **options)
        self.now = now
        self._part_pasted_position()
        dress(self)
        if self.instance.pk is None:
            self.initial["elevation_m"] = None  # typed, never assumed
        self.fields["zone"].required = False
        self.fields["seen"].initial = position_mark(self.instance) if self.instance.pk else ""
        self.fields["version"].initial = self.instance.version

    def _part_pasted_position(self) -> None:
        """A position pasted whole into the first of two fields is put into both.

        Degrees, minutes and seconds pasted into one field are written as degrees.
        """
        latitude, longitude = (str(self.data.get(name, "")) for name in ("latitude", "longitude"))
        pair = read_position(latitude) if self.is_bound and not longitude.strip() else None
        read = pair or (read_angle(latitude, "NS"), read_angle(longitude, "EW"))
        for name, angle in zip(("latitude", "longitude"), read, strict=True):
            if self.is_bound and angle is not None:
                self.data = self.data.copy()  # type: ignore[attr-defined]  # a QueryDict or a dict
                self.data[name] = f"{angle:.10g}"  # type: ignore[index]  # it is no longer fixed

    def clean_country(self) -> str:
        country = str(self.cleaned_data["country"]).upper()
        if country and country not in country_codes():
            raise ValidationError(
                _("“%(value)s” is no country’s code; write its two letters, like ES or NO."),
                params={"value": country},
            )
        return country

    def clean_name(self) -> str:
        name = str(self.cleaned_data["name"])
        same = Site.objects.current().filter(organisation=self.instance.organisation, name=name)
        if same.exclude(pk=self.instance.pk).exists():
            raise ValidationError(
                _("There is already a site named “%(name)s”; give this one another name."),
                params={"name": name},
            )
        return name

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        self._hint_at_swapped_degrees()
        latitude, longitude = cleaned.get("latitude"), cleaned.get("longitude")
        if latitude is not None and longitude is not None:
            self._settle_zone(latitude, longitude)
        self._check_road_dates()
        self._check_measurement()
        return cleaned

    @property
    def looks_swapped(self) -> bool:
        """Tell whether the two angles would be a position if they were exchanged, and are none."""
        latitude, longitude = (
            as_number(str(self.data.get(name, ""))) for name in ("latitude", "longitude")
        )
        if latitude is None or longitude is None:
            return False
        return 90 < abs(latitude) <= 180 and abs(longitude) <= 90

    @property
    def is_seen(self) -> bool:
        """Tell whether this very position and zone were echoed to the person before."""
        return bool(self.cleaned_data["seen"] == position_mark(self.instance))

    def _hint_at_swapped_degrees(self) -> None:
        """A latitude that can only be a longitude: say what most likely happened."""
        if self.looks_swapped:
            self.add_error(
                "latitude", _("Latitude and longitude look swapped: latitude ends at ±90°.")
            )

    def _settle_zone(self, latitude: float, longitude: float) -> None:
        zone = self.cleaned_data.get("zone") or ""
        try:
            self.cleaned_data["zone"] = zone or places.zone_at(latitude, longitude)
            candidate = Site(
                latitude=latitude,
                longitude=longitude,
                elevation_m=self.cleaned_data.get("elevation_m") or 0,
                zone=self.cleaned_data["zone"],
            )
            places.place_of(candidate)
        except SkyError as error:
            self.add_error("zone", sentence(error))

    def _check_road_dates(self) -> None:
        first = self.cleaned_data.get("road_closed_from")
        last = self.cleaned_data.get("road_closed_to")
        if first and last and last < first:
            self.add_error(
                "road_closed_to", _("The road opens before it closes: swap the two dates.")
            )

    def _check_measurement(self) -> None:
        """A measured sky is worth little without its date, and nobody has measured tomorrow."""
        brightness = self.cleaned_data.get("sky_brightness")
        measured = self.cleaned_data.get("sky_measured_on")
        if brightness is not None and measured is None and "sky_measured_on" not in self.errors:
            words = _("A measured brightness needs its date: write when it was measured.")
            self.add_error("sky_measured_on", words)
        if measured and measured > self._today():
            self.add_error("sky_measured_on", _("That day is still to come: write when it was."))

    def _today(self) -> date:
        zone = self.cleaned_data.get("zone") if "zone" not in self.errors else ""
        return local(self.now, zone or "UTC").date()


def position_mark(site: Site) -> str:
    """Give what the echo showed, as one string that a hidden field can carry."""
    return f"{site.latitude}|{site.longitude}|{site.elevation_m}|{site.zone}"


class HazardForm(forms.ModelForm):  # type: ignore[type-arg]
    class Meta:
        model = Hazard
        fields = ["kind", "text"]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        dress(self)


HazardFormSet: Any = forms.inlineformset_factory(
    Site, Hazard, form=HazardForm, extra=1, can_delete=True, max_num=40
)


class SeasonForm(forms.ModelForm):  # type: ignore[type-arg]
    out_from = ClockField(
        label=gettext_lazy("Out from"),
        required=False,
        help_text=gettext_lazy("Local time; empty means civil dusk."),
    )
    out_until = ClockField(
        label=gettext_lazy("Out until"),
        help_text=gettext_lazy("Local time; an hour before noon is the next morning."),
    )
    most_hours_out = DecimalField(
        low=0.5, high=24, example="4", label=gettext_lazy("Most hours out in a night")
    )
    least_hours = DecimalField(
        low=0,
        high=24,
        example="2",
        label=gettext_lazy("Least hours of a candidate night"),
        help_text=gettext_lazy("Moonless, dark and inside the hours you stay out."),
    )
    weekdays = WeekdaysField(label=gettext_lazy("Evenings that suit"))
    avoid = EveningsField(
        label=gettext_lazy("Dates to avoid"),
        help_text=gettext_lazy("Holidays, courses: 25–28 March, 13–15 August."),
    )
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    opened = forms.CharField(widget=forms.HiddenInput, required=False)

    class Meta:
        model = Season
        fields = [
            "name",
            "first_night",
            "last_night",
            "sites",
            "dark_level",
            "out_from",
            "out_until",
            "most_hours_out",
            "least_hours",
            "run_length",
            "weekdays",
            "avoid",
        ]
        widgets = {
            "first_night": forms.DateInput(attrs={"type": "date"}),
            "last_night": forms.DateInput(attrs={"type": "date"}),
            "sites": forms.CheckboxSelectMultiple,
        }

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        dress(self)
        # Only the organisation's own sites can be chosen: a link across is refused by the field.
        self.fields["sites"].queryset = _choosable_sites(self.instance)  # type: ignore[attr-defined]
        self.fields["version"].initial = self.instance.version
        self.fields[OPENED].initial = written(values_of(self)) if self.instance.pk else ""
        self._tell_dates_apart()

    def _tell_dates_apart(self) -> None:
        """Give the dates to avoid the season's years, as far as they are typed already."""
        typed = [self.data.get(name, "") for name in ("first_night", "last_night")]
        stored = [self.instance.first_night, self.instance.last_night]
        dates = [parsed(text) or kept for text, kept in zip(typed, stored, strict=True)]
        if all(dates):
            self.fields["avoid"].within(*dates)  # type: ignore[attr-defined]

    def clean_avoid(self) -> list[list[str]]:
        return [[f"{first}", f"{last}"] for first, last in self.cleaned_data["avoid"]]

    def clean_name(self) -> str:
        name = str(self.cleaned_data["name"])
        same = Season.objects.current().filter(organisation=self.instance.organisation, name=name)
        if same.exclude(pk=self.instance.pk).exists():
            raise ValidationError(
                _("There is already a season named “%(name)s”; give this one another name."),
                params={"name": name},
            )
        return name

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        first, last = cleaned.get("first_night"), cleaned.get("last_night")
        if first and last:
            self._check_dates(first, last)
            self._check_avoid(first, last)
        self._check_hours()
        return cleaned

    def _check_dates(self, first: date, last: date) -> None:
        try:
            check_dates(first, last)
        except SkyError as error:
            self.add_error("last_night", sentence(error))

    def _check_avoid(self, first: date, last: date) -> None:
        """Dates of another year are a slip: they would never keep anybody from a night."""
        typed = [
            [date.fromisoformat(day) for day in pair] for pair in self.cleaned_data.get("avoid", [])
        ]
        outside = [(start, end) for start, end in typed if end < first or start > last]
        if outside and first <= last:
            words = _("Not in this season, which runs from %(first)s to %(last)s: %(dates)s.")
            told = {
                "first": date_format(first, "j F Y"),
                "last": date_format(last, "j F Y"),
                "dates": tell_evenings(outside),
            }
            self.add_error("avoid", words % told)

    def _check_hours(self) -> None:
        cleaned = self.cleaned_data
        refused = hours_refused(cleaned.get("out_from"), cleaned.get("out_until"))
        if refused:
            self.add_error("out_until", refused)
        least, most = cleaned.get("least_hours"), cleaned.get("most_hours_out")
        if least is not None and most is not None and least > most:
            words = _("%(least)s hours are more than the %(most)s that you are out at most.")
            self.add_error("least_hours", words % {"least": f"{least:g}", "most": f"{most:g}"})


def parsed(text: str) -> date | None:
    """Read a date as a browser sends it; None where it is none."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _choosable_sites(season: Season) -> QuerySet[Site]:
    """Give the organisation's sites; an archived one stays where it was already chosen."""
    own = Site.objects.filter(organisation=season.organisation)
    if season.pk is None:
        return own.filter(archived_at=None)
    return own.filter(Q(archived_at=None) | Q(seasons=season)).distinct()
