"""The form of the page of camera and lens: each field explained to who never calculated."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac import camera_words as words
from trips.forms.fields import DecimalField
from trips.forms.layout import Group, ShownGroup, laid_out
from trips.forms.limited import MARKS, limited, typed_number
from trips.forms.words import word_mistakes
from trips.models import Camera

LOWEST_ISO, HIGHEST_ISO = 100, 819_200
# What the page cannot do without, and what is said where it is left empty.
REQUIRED = {
    "focal": gettext_lazy("No focal length is written here; write the lens’s number, like 24."),
    "widest": gettext_lazy("No f-number is written here; write the lens’s smallest, like 2.8."),
}

USUAL: dict[str, str] = {
    "focal": "24",
    "widest": "2.8",
    "draws": "rectilinear",
    "sensor": "full-frame",
    "sky": "far",
    "toward": "core",
    "moon": "none",
    "trail": "5",
    "on": "tripod",
    "error": "2",
    "polar": "5",
    "faint": "22",
    "wide": "180",
    "high": "60",
}

GROUPS = (
    Group("lens", gettext_lazy("Your lens"), ("focal", "widest"), is_folded=False),
    Group("camera", gettext_lazy("Your camera"), ("camera", "sensor", "iso"), is_folded=False),
    Group("sky", gettext_lazy("The sky"), ("sky", "toward", "moon", "snow"), is_folded=False),
    Group("stand", gettext_lazy("The camera stands"), ("on", "trail", "error", "polar"),
          is_folded=False),
    Group("exact", gettext_lazy("What you know more exactly"),
          ("stop", "draws", "megapixels", "width", "height", "pixels", "magnitude", "declination"),
          gettext_lazy("Another sensor, a measured sky, a fisheye.")),
    Group("more", gettext_lazy("Faint targets and wide pictures"), ("faint", "wide", "high"),
          gettext_lazy("How faint, and how wide.")),
)  # fmt: skip


def _chips(label: Any, choices: Any, **options: Any) -> forms.ChoiceField:
    return forms.ChoiceField(label=label, choices=choices, widget=forms.RadioSelect, **options)


class CameraForm(forms.Form):
    focal = limited(
        "focal_length", gettext_lazy("Number written on the lens (mm)"), example="24",
        help_text=gettext_lazy(
            "Its focal length: 14 sees wide, 200 sees far. Of a zoom, the end that you use."
        ),
    )  # fmt: skip
    widest = limited(
        "f_number", gettext_lazy("Smallest f-number on the lens"), example="2.8",
        help_text=gettext_lazy(
            "How wide it opens: the smaller, the more light. A lens marked 1:2.8 has 2.8."
        ),
    )  # fmt: skip
    stop = limited(
        "f_number", gettext_lazy("f-number that you set"), example="4",
        help_text=gettext_lazy("Empty: the smallest."),
    )  # fmt: skip
    draws = forms.ChoiceField(label=gettext_lazy("How it draws"), choices=words.projection_choices)
    camera = forms.ChoiceField(label=gettext_lazy("A camera of the club"), required=False)
    sensor = forms.ChoiceField(
        label=gettext_lazy("Size of the sensor"), choices=words.sensor_choices,
        help_text=gettext_lazy("The part that takes the picture; the manual says which it is."),
    )  # fmt: skip
    megapixels = DecimalField(
        label=gettext_lazy("Megapixels"), low=0.1, high=1000, example="24", required=False,
        widget=typed_number(),
        help_text=gettext_lazy("Of its pictures. Empty: usual for that size."),
    )  # fmt: skip
    iso = DecimalField(
        label=gettext_lazy("Highest ISO that you use"), low=LOWEST_ISO, high=HIGHEST_ISO,
        example="6400", marks=MARKS["iso"], required=False, widget=typed_number(),
        help_text=gettext_lazy("ISO: how strongly the light is lifted. Empty: 12 800."),
    )  # fmt: skip
    width = limited("sensor_size", gettext_lazy("Sensor’s width (mm)"), example="36")
    height = limited("sensor_size", gettext_lazy("Sensor’s height (mm)"), example="24")
    pixels = limited("sensor_pixels", gettext_lazy("Sensor’s pixels across"), example="6000")
    sky = forms.ChoiceField(
        label=gettext_lazy("The sky there"), choices=words.sky_choices,
        help_text=gettext_lazy("In brackets what it is counted with: more is darker."),
    )  # fmt: skip
    magnitude = limited(
        "sky_magnitude", gettext_lazy("The sky as measured (mag/arcsec²)"), example="21.5",
        help_text=gettext_lazy("What a meter reads where you point, the Moon down."),
    )  # fmt: skip
    toward = forms.ChoiceField(
        label=gettext_lazy("Where you point"), choices=words.toward_choices,
        help_text=gettext_lazy("Stars crawl near the pole and run far from it."),
    )  # fmt: skip
    declination = limited(
        "declination", gettext_lazy("Declination where you point (°)"), example="−29",
        help_text=gettext_lazy("North of the sky’s equator; south of it with a minus."),
    )  # fmt: skip
    moon = _chips(
        gettext_lazy("Moon"), words.moon_choices,
        help_text=gettext_lazy("As if 30° up and 60° from where you point."),
    )  # fmt: skip
    snow = forms.BooleanField(label=gettext_lazy("Snow on the ground"), required=False)
    on = _chips(gettext_lazy("On"), words.support_choices)
    trail = _chips(
        gettext_lazy("Stars may become lines of"), words.trail_choices,
        help_text=gettext_lazy("A pixel is one point of the picture; five are seen only up close."),
    )  # fmt: skip
    error = limited(
        "tracking_error", gettext_lazy("It strays by (″ a minute)"), example="2",
        help_text=gettext_lazy("As its maker says, or as you measured."),
    )  # fmt: skip
    polar = limited(
        "polar_error", gettext_lazy("Its axis misses the pole by (′)"), example="5",
        help_text=gettext_lazy("The Moon is 30′ wide."),
    )  # fmt: skip
    faint = limited(
        "target_magnitude", gettext_lazy("A glow as faint as (mag/arcsec²)"), example="22",
        help_text=gettext_lazy(
            "Its light spread over its area: all of the Andromeda Galaxy has 22.3 on the mean."
        ),
    )  # fmt: skip
    wide = limited(
        "wanted_field", gettext_lazy("A picture so wide (°)"), example="180",
        help_text=gettext_lazy("The whole arch of the Milky Way is 180."),
    )  # fmt: skip
    high = DecimalField(
        label=gettext_lazy("and from level so high (°)"), low=1, high=90, example="60",
        required=False, widget=typed_number(),
    )  # fmt: skip

    def __init__(self, cameras: Sequence[Camera], **options: Any) -> None:
        super().__init__(auto_id="ask_%s", label_suffix="", **options)
        self.cameras = {str(camera.pk): camera for camera in cameras}
        if cameras:
            named = [(key, camera.name) for key, camera in self.cameras.items()]
            self._choices("camera", [("", _("none: the sensor below")), *named])
        else:
            del self.fields["camera"]
        for name, field in self.fields.items():
            field.initial = USUAL.get(name)
            word_mistakes(name, field)
        for name, missing in REQUIRED.items():
            self.fields[name].required = True
            self.fields[name].error_messages["required"] = missing

    def _choices(self, name: str, choices: Sequence[Any]) -> None:
        field = self.fields[name]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101 - for the type checker
        field.choices = choices

    def clean(self) -> dict[str, Any]:
        self._clean_sensor()
        self._clean_lens()
        return self.cleaned_data

    def _clean_sensor(self) -> None:
        """A sensor is typed whole or not at all."""
        typed = ("width", "height", "pixels")
        if set(typed) & set(self.errors):
            return
        given = [name for name in typed if self.cleaned_data[name] is not None]
        if not 0 < len(given) < len(typed):
            return
        for name in typed:
            if name not in given:
                self.add_error(name, _("A sensor that is typed needs all three; write this too."))

    def _clean_lens(self) -> None:
        if {"widest", "stop"} & set(self.errors):
            return
        widest, stop = self.cleaned_data["widest"], self.cleaned_data["stop"]
        if stop is not None and stop < widest:
            words = _("The lens opens to f/%(widest)g and no further; write %(widest)g or more.")
            self.add_error("stop", words % {"widest": widest})

    @property
    def chosen_camera(self) -> Camera | None:
        return self.cameras.get(self.cleaned_data.get("camera", ""))


def groups_of(form: CameraForm) -> list[ShownGroup]:
    """Lay the form out; without cameras of a club there is no such field."""
    groups = (
        replace(group, fields=tuple(name for name in group.fields if name in form.fields))
        for group in GROUPS
    )
    return laid_out(form, list(groups))
