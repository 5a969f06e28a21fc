"""What people type about a camera of the club, and about the frame that calibrates it."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.text import format_lazy
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.camera_words import sensor_choices
from trips.almanac.metering import MeteredFrame
from trips.almanac.sensors import Sensor, check_sensor, common_sensor
from trips.almanac.wording import SkyError, sentence
from trips.forms.fields import DecimalField, as_number
from trips.forms.layout import Group, dress, plain
from trips.forms.limited import MARKS
from trips.forms.metered import ANY, LevelField, MeteredForm
from trips.models import Camera

CAMERA_GROUPS = (
    Group("camera", gettext_lazy("The camera"), ("name", "top_iso"), is_folded=False),
    Group(
        "sensor",
        gettext_lazy("Its sensor"),
        ("sensor", "sensor_width_mm", "sensor_height_mm", "pixels_wide", "pixels_high"),
        gettext_lazy("Choose a size, or type millimetres and pixels from the data sheet."),
        is_folded=False,
    ),
)
FRAME_GROUPS = (
    Group(
        "frame",
        gettext_lazy("The frame"),
        ("f_number", "seconds", "iso", "level"),
        is_folded=False,
    ),
    Group("known", gettext_lazy("The sky it shows"), ("known_mag", "on", "how"), is_folded=False),
)

_DECIMAL = {"inputmode": "decimal", "autocomplete": "off"}
_WHOLE = {"inputmode": "numeric", "autocomplete": "off"}
MILLIMETRES = ("sensor_width_mm", "sensor_height_mm")
PIXELS = ("pixels_wide", "pixels_high")
MM = MARKS["sensor_size"]
# Where the day begins first.
EASTERNMOST = timedelta(hours=14)


def _whole(label: Any, low: int, high: int, example: str, **options: Any) -> forms.IntegerField:
    """Give a field for a whole number; `example` is one that would be right."""
    words = format_lazy(gettext_lazy("Only a whole number will do; write it like {}."), example)
    return forms.IntegerField(
        label=label, min_value=low, max_value=high,
        error_messages={"required": words, "invalid": words}, **options,
    )  # fmt: skip


class ClubCameraForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    """A camera. A sensor that is chosen fills in the numbers that were left as they were."""

    sensor = forms.ChoiceField(
        required=False,
        choices=lambda: [("", gettext_lazy("as typed here")), *sensor_choices()],
        label=gettext_lazy("Size"),
    )
    sensor_width_mm = DecimalField(
        low=1, high=120, example="36", marks=MM, label=gettext_lazy("Width (mm)")
    )
    sensor_height_mm = DecimalField(
        low=1, high=120, example="24", marks=MM, label=gettext_lazy("Height (mm)")
    )
    pixels_wide = _whole(gettext_lazy("Pixels across"), 1, 100_000, "6000")
    pixels_high = _whole(gettext_lazy("Pixels down"), 1, 100_000, "4000")
    top_iso = _whole(
        gettext_lazy("Highest ISO that you use"), 100, 1_000_000, "12800",
        help_text=gettext_lazy("Exposures are not advised beyond it."),
    )  # fmt: skip
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    opened = forms.CharField(widget=forms.HiddenInput, required=False)
    instance: Camera

    class Meta:
        model = Camera
        fields = ["name", "top_iso", *MILLIMETRES, *PIXELS]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for name in MILLIMETRES:
            self.fields[name].widget.attrs.update(_DECIMAL)
        for name in (*PIXELS, "top_iso"):
            self.fields[name].widget.attrs.update(_WHOLE)
        dress(self)
        self.fields["version"].initial = self.instance.version
        # A size that is chosen stands for them: a browser must let them be empty.
        self.use_required_attribute = False
        self._contradicted = self._fill_in()

    def clean_name(self) -> str:
        name = str(self.cleaned_data["name"])
        same = Camera.objects.current().filter(organisation=self.instance.organisation, name=name)
        if same.exclude(pk=self.instance.pk).exists():
            raise ValidationError(
                _("There is already a camera named “%(name)s”; give this one another name."),
                params={"name": name},
            )
        return name

    def clean_sensor(self) -> str:
        if self._contradicted:
            raise ValidationError(
                _("The millimetres below are not those of this size: leave one of the two out.")
            )
        return str(self.cleaned_data["sensor"])

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        sizes = {name: cleaned.get(name) for name in (*MILLIMETRES, *PIXELS)}
        if None not in sizes.values():
            try:
                check_sensor(Camera(**sizes))
            except SkyError as error:
                self.add_error("pixels_high", sentence(error))
        return cleaned

    def _fill_in(self) -> bool:
        """Put a chosen sensor's numbers into the data; tell whether what was typed contradicts."""
        chosen = common_sensor(str(self.data.get("sensor", ""))) if self.is_bound else None
        if chosen is None:
            return False
        self.data = self.data.copy()  # type: ignore[attr-defined]  # a QueryDict or a dict
        numbers = _numbers(chosen)
        contradicted = False
        for name, number in numbers.items():
            typed = as_number(str(self.data.get(name, "")))
            if typed is None or plain(typed) == plain(float(self.initial.get(name) or 0)):
                self.data[name] = f"{number:.10g}"  # type: ignore[index]  # it is no longer fixed
            elif name in MILLIMETRES and typed != number:
                contradicted = True
        return contradicted


class CalibrationForm(MeteredForm):
    """A frame of a sky whose brightness somebody knows."""

    level = LevelField(
        label=gettext_lazy("Level of the background"),
        help_text=gettext_lazy(
            "Its mean near the middle of the frame, between the stars, as a share of full scale: "
            "0.03 or 3 %. Linear raw data with the black level taken off."
        ),
    )
    known_mag = DecimalField(
        **ANY,
        example="21.2",
        label=gettext_lazy("Known brightness (mag/arcsec²)"),
        help_text=gettext_lazy("What a meter read in the same direction within minutes."),
    )
    on = forms.DateField(
        label=gettext_lazy("Evening of"), widget=forms.DateInput(attrs={"type": "date"})
    )
    how = forms.CharField(
        max_length=200,
        label=gettext_lazy("How"),
        help_text=gettext_lazy("With which lens and which meter: it holds for that lens."),
    )

    def __init__(self, *args: Any, now: datetime, **options: Any) -> None:
        super().__init__(*args, **options)
        self._last_day = (now + EASTERNMOST).date()
        self.frame: MeteredFrame | None = None
        self.fields["known_mag"].widget.attrs.update(_DECIMAL)
        dress(self)

    def clean_on(self) -> Any:
        on = self.cleaned_data["on"]
        if on > self._last_day:
            raise ValidationError(_("That day is still to come: write when it was."))
        return on

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        level = cleaned.get("level")
        try:
            # Without a level the other numbers are still looked at.
            frame = self.frame_of(0.5 if level is None else level)
        except SkyError as error:
            self.refuse(error)
        else:
            self.frame = frame if level is not None else None
        return cleaned


def _numbers(sensor: Sensor) -> dict[str, float]:
    sides = (sensor.width_mm, sensor.height_mm, sensor.pixels_wide, sensor.pixels_high)
    return dict(zip((*MILLIMETRES, *PIXELS), sides, strict=True))
