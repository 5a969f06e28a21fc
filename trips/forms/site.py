"""What people type about a site, read and checked. The deed behind the form is a service."""

from __future__ import annotations

import re
import unicodedata
from datetime import date, datetime
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.dates import MONTHS
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac import places
from trips.almanac.local_time import local
from trips.almanac.wording import SkyError, sentence
from trips.forms.countries import country_codes
from trips.forms.fields import (
    DecimalField,
    as_number,
)
from trips.forms.layout import dress
from trips.forms.position import PositionForm
from trips.forms.rows import rows_of
from trips.models import Hazard, Site
from trips.planning.emergency_numbers import proposed
from trips.services.emergency import proposal_words

# One number; the longest on Earth have 15 digits (ITU-T E.164).
_DIALLED = re.compile(r"\+?[0-9](?:[ -]?[0-9]){1,14}")


class SiteForm(PositionForm):
    """A site. Its position is echoed in plain words before anything is saved.

    `seen` holds the position and zone that were echoed last: only what a person has seen is saved.
    """

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
    extinction = DecimalField(
        low=0,
        high=1,
        example="0.172",
        required=False,
        label=gettext_lazy("Extinction (mag per airmass)"),
        help_text=gettext_lazy(
            "What the air takes: about 0.12 on a high dry summit, 0.3 in summer haze. Empty: 0.172."
        ),
    )
    usable_loss_mag = DecimalField(
        low=0.05,
        high=2,
        example="0.2",
        required=False,
        label=gettext_lazy("Brightening that is borne (mag)"),
        help_text=gettext_lazy(
            "The sky is usable dark while Moon and twilight brighten it by no more. Empty: 0.2."
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
            "extinction",
            "usable_loss_mag",
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
            "emergency_number",
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
        dress(self)
        if self.instance.pk is None:
            self.initial["elevation_m"] = None  # typed, never assumed
        self.fields["zone"].required = False
        self.fields["seen"].initial = position_mark(self.instance) if self.instance.pk else ""
        self.fields["version"].initial = self.instance.version
        self._propose_number()

    def _propose_number(self) -> None:
        """Say what is listed for the country, and leave the field to whoever confirms it."""
        typed = self.data.get("country", "") if self.is_bound else self.instance.country
        proposal = proposed(str(typed).strip())
        field = self.fields["emergency_number"]
        if proposal is None:
            field.help_text = _(
                "As it is dialled there. Empty: pages say that it is not confirmed."
            )
            return
        field.help_text = _(
            "Listed for %(listed)s Type it if it is right there; left empty, pages say that it is "
            "not confirmed."
        ) % {"listed": proposal_words(proposal)}

    def clean_emergency_number(self) -> str:
        """Keep digits as any script writes them, so that a phone can dial them."""
        typed = " ".join(str(self.cleaned_data["emergency_number"]).split())
        dialled = "".join(_digit(sign) for sign in typed)
        if typed and not _DIALLED.fullmatch(dialled):
            raise ValidationError(
                _("“%(value)s” is no number that a phone can dial; write it like 112."),
                params={"value": typed},
            )
        return dialled

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
            self.errors.pop("latitude", None)  # one mistake, one sentence
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

    def clean_extinction(self) -> float:
        return self._or_usual("extinction")

    def clean_usable_loss_mag(self) -> float:
        return self._or_usual("usable_loss_mag")

    def _or_usual(self, name: str) -> float:
        typed = self.cleaned_data[name]
        return float(getattr(Site(), name) if typed is None else typed)

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


def _digit(sign: str) -> str:
    """Give the digit of any script as 0 to 9, and every other sign as it is."""
    return str(unicodedata.decimal(sign, sign))


def position_mark(site: Site) -> str:
    """Give what the echo showed, as one string that a hidden field can carry."""
    return f"{site.latitude}|{site.longitude}|{site.elevation_m}|{site.zone}"


MOST_HAZARDS = 40


class HazardForm(forms.ModelForm):  # type: ignore[type-arg]
    class Meta:
        model = Hazard
        fields = ["kind", "text"]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        dress(self)


HazardFormSet: Any = rows_of(Site, Hazard, form=HazardForm, extra=1, most=MOST_HAZARDS)
