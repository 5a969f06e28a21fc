"""What the page of alignments asks: which target, over what, in which light, in which nights."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.alignments import TOLERANCES_DEGREES, Aim
from trips.almanac.bearings import bearing
from trips.almanac.dates import check_dates
from trips.almanac.targets import LONGEST_NAME, Target, find_target
from trips.almanac.wording import SkyError, sentence
from trips.forms.fields import DecimalField
from trips.forms.words import word_mistakes
from trips.models import Landmark, Season, Site, Spot, TargetEntry

LONGEST = 40  # of what is typed, so that a mistake can be repeated
AZIMUTH_TOLERANCE, ALTITUDE_TOLERANCE = 2.0, 1.0
NARROWEST, WIDEST = TOLERANCES_DEGREES
# Azimuths nearer than this are the same one, typed again.
SAME_DEGREES = 0.05
ANY_HOUR = "any"


def _typed(**options: Any) -> forms.TextInput:
    attributes = {"inputmode": "decimal", "autocomplete": "off", "size": 7, "maxlength": LONGEST}
    return forms.TextInput(attrs=attributes | options)


class DayField(forms.DateField):
    """A date as browsers send it, whatever the language."""

    widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})

    def __init__(self, **options: Any) -> None:
        super().__init__(input_formats=["%Y-%m-%d"], required=False, **options)


class AlignmentForm(forms.Form):
    target = forms.CharField(
        label=gettext_lazy("Target"),
        max_length=LONGEST_NAME,
        widget=forms.TextInput(
            attrs={"list": "targets", "autocomplete": "off", "spellcheck": "false", "dir": "auto"}
        ),
        help_text=gettext_lazy("A name, or two angles such as 17h45m40s −29d00m28s."),
        error_messages={"required": gettext_lazy("No target is named; write one like Jupiter.")},
    )
    over = forms.ChoiceField(label=gettext_lazy("Over a landmark"), required=False)
    azimuth = DecimalField(
        low=0, high=360, example="214", required=False, widget=_typed(),
        label=gettext_lazy("or an azimuth (°)"),
        help_text=gettext_lazy("From true north through east."),
    )  # fmt: skip
    altitude = DecimalField(
        low=0, high=90, example="12.5", required=False, widget=_typed(),
        label=gettext_lazy("Altitude (°)"),
        help_text=gettext_lazy("As it is seen. Empty: any above the land and the landmark’s top."),
    )  # fmt: skip
    spot = forms.ChoiceField(label=gettext_lazy("From spot"), required=False)
    hours = forms.ChoiceField(
        label=gettext_lazy("Hours"),
        required=False,
        choices=[
            ("", gettext_lazy("while you are out, by the season")),
            (ANY_HOUR, gettext_lazy("at any hour, those outside marked")),
        ],
    )
    light = forms.ChoiceField(label=gettext_lazy("Light"), required=False)
    season = forms.ChoiceField(label=gettext_lazy("Season"), required=False)
    azimuth_tolerance = DecimalField(
        low=NARROWEST, high=WIDEST, example="2", required=False, widget=_typed(),
        label=gettext_lazy("± to the side (°)"),
        help_text=gettext_lazy("On the sky. Empty: 2°, or half the landmark’s width."),
    )  # fmt: skip
    altitude_tolerance = DecimalField(
        low=NARROWEST, high=WIDEST, example="1", required=False, widget=_typed(),
        label=gettext_lazy("± in altitude (°)"),
        help_text=gettext_lazy("Counts with an altitude. Empty: 1°."),
    )  # fmt: skip
    first = DayField(label=gettext_lazy("First evening"))
    last = DayField(
        label=gettext_lazy("Last evening"),
        help_text=gettext_lazy("Empty: all nights of the season."),
    )

    def __init__(self, site: Site, spots: Sequence[Spot], **options: Any) -> None:
        super().__init__(auto_id="ask_%s", label_suffix="", **options)
        self.landmarks = {
            str(landmark.pk): landmark for spot in spots for landmark in spot.landmarks.all()
        }
        self.spots = {str(spot.pk): spot for spot in spots}
        self.seasons = {str(season.pk): season for season in site.seasons.current()}
        self._choose("over", _landmark_choices(spots))
        self._choose("spot", _spot_choices(spots))
        self._choose("light", [("", _("as usual")), *TargetEntry.Light.choices])
        seasons = [(key, season.name) for key, season in self.seasons.items()]
        self._choose("season", [*seasons, ("", _("the two dates alone"))])
        for name, field in self.fields.items():
            word_mistakes(name, field)

    def _choose(self, name: str, choices: Sequence[Any]) -> None:
        field = self.fields[name]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101 - for the type checker
        field.choices = choices

    def clean_target(self) -> Target:
        try:
            return find_target(self.cleaned_data["target"])
        except SkyError as error:
            raise forms.ValidationError(sentence(error)) from None

    def clean(self) -> dict[str, Any]:
        self._clean_direction()
        self._clean_spot()
        self._clean_altitude()
        self._clean_dates()
        return self.cleaned_data

    def _clean_direction(self) -> None:
        if {"over", "azimuth"} & set(self.errors):
            return
        landmark, azimuth = self.landmark, self.cleaned_data["azimuth"]
        if landmark is None and azimuth is None:
            self.add_error("azimuth", _("Choose a landmark, or write an azimuth like 214."))
        if landmark and azimuth is not None:
            apart = abs((azimuth - landmark.azimuth_degrees + 180) % 360 - 180)
            if apart > SAME_DEGREES:
                words = _("%(name)s stands at %(azimuth)s°: empty this, or choose no landmark.")
                told = {"name": landmark.name, "azimuth": f"{landmark.azimuth_degrees:g}"}
                self.add_error("azimuth", words % told)

    def _clean_spot(self) -> None:
        if {"over", "spot"} & set(self.errors):
            return
        landmark, spot = self.landmark, self.spots.get(self.cleaned_data["spot"])
        if landmark and spot and landmark.spot_id != spot.pk:
            words = _("%(name)s is seen from %(spot)s: choose that spot, or no landmark.")
            own = self.spots[str(landmark.spot_id)]
            self.add_error("spot", words % {"name": landmark.name, "spot": own.name})

    def _clean_altitude(self) -> None:
        if {"over", "altitude", "altitude_tolerance"} & set(self.errors):
            return
        landmark, altitude = self.landmark, self.cleaned_data["altitude"]
        reach = self.cleaned_data["altitude_tolerance"] or ALTITUDE_TOLERANCE
        if landmark and altitude is not None and altitude + reach < landmark.top_degrees:
            words = _("%(name)s is %(top)s° high: write more, or leave this empty.")
            told = {"name": landmark.name, "top": f"{landmark.top_degrees:g}"}
            self.add_error("altitude", words % told)

    def _clean_dates(self) -> None:
        if {"season", "first", "last"} & set(self.errors):
            return
        season = self.chosen_season
        for name, usual in (("first", "first_night"), ("last", "last_night")):
            if self.cleaned_data[name] is None and season:
                self.cleaned_data[name] = getattr(season, usual)
            elif self.cleaned_data[name] is None:
                self.add_error(name, _("Choose a season, or write a date like 2027-03-09."))
        if {"first", "last"} & set(self.errors):
            return
        try:
            check_dates(self.cleaned_data["first"], self.cleaned_data["last"])
        except SkyError as error:
            self.add_error("last", sentence(error))

    @property
    def landmark(self) -> Landmark | None:
        return self.landmarks.get(self.cleaned_data["over"])

    @property
    def seen_from(self) -> Spot | None:
        """The one that is chosen, else the landmark's, else the first."""
        landmark, usual = self.landmark, next(iter(self.spots), "")
        own = str(landmark.spot_id) if landmark else usual
        return self.spots.get(self.cleaned_data["spot"] or own)

    @property
    def chosen_season(self) -> Season | None:
        return self.seasons.get(self.cleaned_data["season"])


@dataclass(frozen=True, slots=True)
class Question:
    """What was asked, read: the spot that it is seen from, and the landmark if it is one."""

    target: Target
    aim: Aim
    light: str
    first: date
    last: date
    spot: Spot | None
    landmark: Landmark | None
    season: Season | None
    is_whole_season: bool  # the dates are all of its nights
    is_while_out: bool


def read_question(
    asked: QueryDict, site: Site, spots: Sequence[Spot], *, today: date
) -> tuple[AlignmentForm, Question | None]:
    """Read the address; without a target in it nothing is asked yet."""
    if "target" not in asked:
        ahead = site.seasons.current().filter(last_night__gte=today).order_by("first_night")
        season = ahead.first() or site.seasons.current().first()
        given = {"over": asked.get("over", ""), "season": str(season.pk) if season else ""}
        return AlignmentForm(site, spots, initial=given), None
    form = AlignmentForm(site, spots, data=asked)
    if not form.is_valid():
        return form, None
    return form, _question(form)


def _question(form: AlignmentForm) -> Question:
    said, landmark, season = form.cleaned_data, form.landmark, form.chosen_season
    first, last = said["first"], said["last"]
    return Question(
        target=said["target"],
        aim=_aim(said, landmark),
        light=said["light"],
        first=first,
        last=last,
        spot=form.seen_from,
        landmark=landmark,
        season=season,
        is_whole_season=season is not None
        and (first, last) == (season.first_night, season.last_night),
        is_while_out=season is not None and said["hours"] != ANY_HOUR,
    )


def _aim(said: dict[str, Any], landmark: Landmark | None) -> Aim:
    width = landmark.width_degrees if landmark else None
    usual = min(max(width / 2, NARROWEST), WIDEST) if width else AZIMUTH_TOLERANCE
    return Aim(
        azimuth_degrees=landmark.azimuth_degrees if landmark else said["azimuth"],
        altitude_degrees=said["altitude"],
        azimuth_tolerance_degrees=said["azimuth_tolerance"] or usual,
        altitude_tolerance_degrees=said["altitude_tolerance"] or ALTITUDE_TOLERANCE,
        least_altitude_degrees=max(landmark.top_degrees, 0.0) if landmark else 0.0,
    )


def _landmark_choices(spots: Sequence[Spot]) -> list[Any]:
    groups = [
        (spot.name, [(str(one.pk), f"{one.name}, {bearing(one.azimuth_degrees)}") for one in found])
        for spot in spots
        if (found := list(spot.landmarks.all()))
    ]
    return [("", _("none: an azimuth")), *groups]


def _spot_choices(spots: Sequence[Spot]) -> list[Any]:
    if not spots:
        return [("", _("none: the site’s own position"))]
    usual = _("the landmark’s own, or %(spot)s") % {"spot": spots[0].name}
    return [("", usual), *((str(spot.pk), spot.name) for spot in spots)]
