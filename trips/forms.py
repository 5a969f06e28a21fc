"""What people type, read and checked. The deeds behind the forms are services."""

from __future__ import annotations

import math
from datetime import date
from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.db.models import Q, QuerySet
from django.http import HttpRequest
from django.utils.dates import MONTHS
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac import places
from trips.almanac.dates import check_dates
from trips.almanac.wording import SkyError, sentence
from trips.fields import ClockField, EveningsField, WeekdaysField
from trips.form_layout import dress
from trips.models import Hazard, Season, Site
from trips.typed_position import read_position


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


def as_number(text: str) -> float | None:
    """Read a number with a point or a comma and any minus sign; None where it is none."""
    try:
        # Python would read 4_0 as forty; nobody who types it means that.
        number = float(text.strip().replace("−", "-").replace(",", ".").replace("_", "?"))
    except ValueError:
        return None
    return number if math.isfinite(number) else None


class DecimalField(forms.FloatField):
    """A number as people write it: 40.4, 40,4, −1.1."""

    widget = forms.TextInput

    def __init__(self, *, low: float, high: float, **options: Any) -> None:
        self.low, self.high = low, high
        super().__init__(**options)

    def to_python(self, value: Any) -> float | None:  # type: ignore[override]
        if value in self.empty_values:
            return None
        number = as_number(str(value))
        if number is None:
            raise ValidationError(
                _("“%(value)s” is not a number; write it like 40.4."), params={"value": value}
            )
        return number

    def prepare_value(self, value: Any) -> Any:
        """Show 1850, not 1850.0."""
        return f"{value:.10g}" if isinstance(value, float) else value

    def validate(self, value: Any) -> None:
        super().validate(value)
        if value is not None and not self.low <= value <= self.high:
            raise ValidationError(
                _("%(value)s is out of range: it must be from %(low)s to %(high)s."),
                params={
                    "value": f"{value:g}",
                    "low": f"{self.low:g}",
                    "high": f"{self.high:g}",
                },
            )


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
        label=gettext_lazy("Latitude"),
        help_text=gettext_lazy(
            "Degrees, north positive: −40.4 is south. Both may be pasted here: 40.4, −1.1."
        ),
    )
    longitude = DecimalField(
        low=-180,
        high=360,
        widget=MaybePastedInput,
        label=gettext_lazy("Longitude"),
        help_text=gettext_lazy("Degrees, east positive: −1.1 is west of Greenwich."),
    )
    elevation_m = DecimalField(low=-450, high=9000, label=gettext_lazy("Elevation (m)"))
    sky_brightness = DecimalField(
        low=14,
        high=22.5,
        required=False,
        label=gettext_lazy("Measured sky brightness (mag/arcsec²)"),
        help_text=gettext_lazy(
            "At the zenith, on a moonless night. Leave empty when nobody has measured."
        ),
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

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self._part_pasted_position()
        dress(self)
        if self.instance.pk is None:
            self.initial["elevation_m"] = None  # typed, never assumed
        self.fields["zone"].required = False
        self.fields["seen"].initial = position_mark(self.instance) if self.instance.pk else ""
        self.fields["version"].initial = self.instance.version

    def _part_pasted_position(self) -> None:
        """A position pasted whole into the first of two fields is put into both."""
        if self.is_bound and not str(self.data.get("longitude", "")).strip():
            pair = read_position(str(self.data.get("latitude", "")))
            if pair:
                parted: Any = self.data.copy()  # type: ignore[attr-defined]  # a QueryDict or a dict
                parted["latitude"], parted["longitude"] = (f"{angle:.10g}" for angle in pair)
                self.data = parted

    def clean_country(self) -> str:
        country = str(self.cleaned_data["country"]).upper()
        if country and not (len(country) == 2 and country.isascii() and country.isalpha()):
            raise ValidationError(
                _("“%(value)s” is not a country code; write two letters, like ES."),
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
        return cleaned

    @property
    def is_seen(self) -> bool:
        """Tell whether this very position and zone were echoed to the person before."""
        return bool(self.cleaned_data["seen"] == position_mark(self.instance))

    def _hint_at_swapped_degrees(self) -> None:
        """A latitude that can only be a longitude: say what most likely happened."""
        latitude = as_number(str(self.data.get("latitude", "")))
        longitude = as_number(str(self.data.get("longitude", "")))
        if latitude is None or longitude is None:
            return
        if 90 < abs(latitude) <= 180 and abs(longitude) <= 90:
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


def position_mark(site: Site) -> str:
    """Give what the echo showed, as one string that a hidden field can carry."""
    return f"{site.latitude}|{site.longitude}|{site.elevation_m}|{site.zone}"


HazardFormSet: Any = forms.inlineformset_factory(
    Site, Hazard, fields=["kind", "text"], extra=1, can_delete=True, max_num=40
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
    weekdays = WeekdaysField(label=gettext_lazy("Evenings that suit"))
    avoid = EveningsField(
        label=gettext_lazy("Dates to avoid"),
        help_text=gettext_lazy("Holidays, courses: 25–28 March, 13–15 August."),
    )
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

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
        return cleaned

    def _check_dates(self, first: date, last: date) -> None:
        try:
            check_dates(first, last)
        except SkyError as error:
            self.add_error("last_night", sentence(error))


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
