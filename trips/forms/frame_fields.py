"""The form of the page of a spot's frame: where the camera points, with what lens, and when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from django import forms
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.camera import Sensor, sensor_by_name, sensor_of, sensor_typed
from trips.almanac.camera_words import projection_choices, sensor_choices
from trips.almanac.local_time import clock
from trips.almanac.sky_times import instant_of, within_sky
from trips.almanac.targets import LONGEST_NAME, Target, find_target
from trips.almanac.wording import SkyError, sentence
from trips.forms.alignments import DayField
from trips.forms.fields import DecimalField
from trips.forms.layout import Group, ShownGroup, laid_out
from trips.forms.limited import LONGEST, LimitedField
from trips.forms.words import word_mistakes
from trips.models import Camera, Night, Site

UPRIGHT = "portrait"
# A star's path is drawn straight: in half an hour it bends by less than a line is wide.
SHORTEST_SECONDS, LONGEST_SECONDS = 0.001, 1800

USUAL: dict[str, str] = {
    "aim": "land",
    "focal": "24",
    "draws": "rectilinear",
    "sensor": "full-frame",
    "held": "landscape",
    "seconds": "15",
}
SENSOR_FIELDS = ("width", "height", "pixels")
GROUPS = (
    Group("where", gettext_lazy("Where it points"), ("target", "aim"), is_folded=False),
    Group("lens", gettext_lazy("Lens and camera"), ("focal", "camera", "sensor", "held"),
          is_folded=False),
    Group("when", gettext_lazy("When"), ("night", "at", "seconds"), is_folded=False),
    Group("exact", gettext_lazy("What you know more exactly"),
          ("azimuth", "altitude", "draws", *SENSOR_FIELDS),
          gettext_lazy("A direction, a fisheye, another sensor.")),
)  # fmt: skip


def _typed(**options: Any) -> forms.TextInput:
    return forms.TextInput(
        attrs={"inputmode": "decimal", "autocomplete": "off", "size": 7, "maxlength": LONGEST}
        | options
    )


class FrameForm(forms.Form):
    target = forms.CharField(
        label=gettext_lazy("Target"), required=False, max_length=LONGEST_NAME,
        widget=forms.TextInput(
            attrs={"list": "targets", "autocomplete": "off", "spellcheck": "false", "dir": "auto"}
        ),
        help_text=gettext_lazy("A name, or two angles. Empty: a direction is written below."),
    )  # fmt: skip
    aim = forms.ChoiceField(
        label=gettext_lazy("How it is framed"),
        choices=[
            ("land", gettext_lazy("with land below it")),
            ("middle", gettext_lazy("in the middle")),
        ],
    )
    azimuth = DecimalField(
        low=0, high=360, example="182", marks=("°",), required=False, widget=_typed(),
        label=gettext_lazy("Azimuth of the middle (°)"),
        help_text=gettext_lazy("From true north through east. Empty: as the target is framed."),
    )  # fmt: skip
    altitude = DecimalField(
        low=-90, high=90, example="20", marks=("°",), required=False,
        widget=_typed(inputmode="text"),
        label=gettext_lazy("Altitude of the middle (°)"),
        help_text=gettext_lazy("Of where the camera looks; below the level with a minus."),
    )  # fmt: skip
    focal = LimitedField(
        limited="focal_length", label=gettext_lazy("Number written on the lens (mm)"),
        example="24", widget=_typed(),
        error_messages={
            "required": gettext_lazy("No focal length is written here; write it like 24.")
        },
    )  # fmt: skip
    camera = forms.ChoiceField(label=gettext_lazy("A camera of the club"), required=False)
    sensor = forms.ChoiceField(label=gettext_lazy("Size of the sensor"), choices=sensor_choices)
    held = forms.ChoiceField(
        label=gettext_lazy("Held"),
        choices=[
            ("landscape", gettext_lazy("lying")),
            (UPRIGHT, gettext_lazy("upright")),
        ],
    )
    night = DayField(label=gettext_lazy("Evening"))
    at = forms.CharField(
        label=gettext_lazy("Time"), required=False, max_length=LONGEST,
        widget=_typed(inputmode="numeric", placeholder="hh:mm"),
        help_text=gettext_lazy("Empty: when the target stands best."),
    )  # fmt: skip
    seconds = DecimalField(
        low=SHORTEST_SECONDS, high=LONGEST_SECONDS, example="15", marks=("s",), widget=_typed(),
        label=gettext_lazy("Exposure (s)"),
        error_messages={"required": gettext_lazy("No time is written here; write it like 15.")},
    )  # fmt: skip
    draws = forms.ChoiceField(label=gettext_lazy("How the lens draws"), choices=projection_choices)
    width = LimitedField(
        limited="sensor_size", label=gettext_lazy("Sensor’s width (mm)"), example="36",
        required=False, widget=_typed(),
    )  # fmt: skip
    height = LimitedField(
        limited="sensor_size", label=gettext_lazy("Sensor’s height (mm)"), example="24",
        required=False, widget=_typed(),
    )  # fmt: skip
    pixels = LimitedField(
        limited="sensor_pixels", label=gettext_lazy("Sensor’s pixels across"), example="6000",
        required=False, widget=_typed(),
    )  # fmt: skip

    def __init__(
        self, site: Site, cameras: Sequence[Camera], nights: tuple[date, date], **options: Any
    ) -> None:
        super().__init__(auto_id="ask_%s", label_suffix="", **options)
        self.site, self.nights = site, nights
        self.row: Night | None = None
        self.cameras = {str(camera.pk): camera for camera in cameras}
        if cameras:
            named = [(key, camera.name) for key, camera in self.cameras.items()]
            self._choose("camera", [("", _("none: the sensor below")), *named])
        else:
            del self.fields["camera"]
        for name, field in self.fields.items():
            field.initial = USUAL.get(name)
            word_mistakes(name, field)

    def _choose(self, name: str, choices: Sequence[Any]) -> None:
        field = self.fields[name]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101 - for the type checker
        field.choices = choices

    def clean_target(self) -> Target | None:
        typed = self.cleaned_data["target"]
        try:
            return find_target(typed) if typed else None
        except SkyError as error:
            raise forms.ValidationError(sentence(error)) from None

    def clean_night(self) -> date | None:
        asked: date | None = self.cleaned_data["night"]
        self.row = Night.objects.filter(site=self.site, date=asked).first() if asked else None
        if self.row is None:
            words = _(
                "That night is not computed for this site; choose one from %(first)s to %(last)s."
            )
            first, last = (date_format(night, "j F Y") for night in self.nights)
            raise forms.ValidationError(words % {"first": first, "last": last})
        return asked

    def clean(self) -> dict[str, Any]:
        self._clean_direction()
        self._clean_time()
        self._clean_sensor()
        return self.cleaned_data

    def _clean_direction(self) -> None:
        if {"target", "azimuth", "altitude"} & set(self.errors):
            return
        if self.cleaned_data["target"] is None and self.cleaned_data["azimuth"] is None:
            self.add_error("target", _("Name a target here, or write an azimuth below."))

    def _clean_time(self) -> None:
        """Read the time on the clock of the night; empty is none."""
        typed, row, zone = self.cleaned_data.get("at", "").strip(), self.row, self.site.zone
        self.cleaned_data["at"] = None
        if not typed or row is None:
            return
        found = instant_of(typed, row, zone)
        if found is None:
            words = _("“%(asked)s” is no time; write one such as 23:30.")
            self.add_error("at", words % {"asked": typed})
        elif within_sky(found, row) != found:
            words = _(
                "At %(asked)s the Sun is up; write a time between %(sunset)s and %(sunrise)s."
            )
            told = {
                "asked": typed,
                "sunset": clock(row.sunset or row.start, zone),
                "sunrise": clock(row.sunrise or row.end, zone),
            }
            self.add_error("at", words % told)
        else:
            self.cleaned_data["at"] = found

    def _clean_sensor(self) -> None:
        """A sensor is typed whole or not at all, and must be one that can be."""
        if set(SENSOR_FIELDS) & set(self.errors):
            return
        given = [name for name in SENSOR_FIELDS if self.cleaned_data[name] is not None]
        for name in SENSOR_FIELDS if given else ():
            if name not in given:
                self.add_error(
                    name, _("A sensor has width, height and pixels; write this one too.")
                )
        if {"sensor", "camera", "held", *SENSOR_FIELDS} & set(self.errors):
            return
        try:
            self.cleaned_data["of"] = self._sensor()
        except SkyError as error:
            self.add_error("pixels", sentence(error))

    def _sensor(self) -> Sensor:
        """Give the typed one, else that of the club's camera, else the named."""
        said = self.cleaned_data
        camera = self.cameras.get(said.get("camera", ""))
        if said["width"] is not None:
            found = sensor_typed(said["width"], said["height"], round(said["pixels"]))
        elif camera:
            found = sensor_of(camera)
        else:
            found = sensor_by_name(said["sensor"])
        return found.turned() if said["held"] == UPRIGHT else found


def groups_of(form: FrameForm) -> list[ShownGroup]:
    """Lay the form out; without cameras of a club there is no such field."""
    groups = (
        replace(group, fields=tuple(name for name in group.fields if name in form.fields))
        for group in GROUPS
    )
    return laid_out(form, list(groups))
