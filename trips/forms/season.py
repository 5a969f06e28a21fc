"""What people type about a season, read and checked. The deed behind the form is a service."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import Q, QuerySet
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.dates import check_dates
from trips.almanac.wording import SkyError, sentence
from trips.forms.evenings import tell_evenings
from trips.forms.fields import (
    ClockField,
    DecimalField,
    EveningsField,
    WeekdaysField,
    hours_refused,
)
from trips.forms.layout import dress
from trips.forms.meanwhile import OPENED, values_of, written
from trips.models import Season, Site
from trips.services.seasons import choosable_lists


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
            "target_list",
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
        # Only what is the organisation's own can be chosen: a link across is refused by the field.
        self.fields["sites"].queryset = _choosable_sites(self.instance)  # type: ignore[attr-defined]
        self.fields["target_list"].queryset = choosable_lists(self.instance)  # type: ignore[attr-defined]
        self.fields["target_list"].empty_label = _("none: the dark alone counts")  # type: ignore[attr-defined]
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
