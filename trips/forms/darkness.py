"""What people type of an evening's readings: when, under what sky, and a row for each direction."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.bearings import POINTS
from trips.almanac.metering import MeteredFrame, frame_doubts, metered
from trips.almanac.readings import instant_of
from trips.almanac.wording import SkyError, sentence
from trips.forms.fields import ClockField, DecimalField, as_number
from trips.forms.layout import Group, dress
from trips.forms.metered import FIELD_OF, LevelField, MeteredForm
from trips.forms.rows import rows_of
from trips.models import Camera, DarknessReading, Site, Spot
from trips.services.cameras import meters_of
from trips.services.darkness import HIGHEST, LOWEST, MOST_AT_ONCE

METER, FRAME = DarknessReading.How.METER, DarknessReading.How.FRAME
PREFIX = "readings"
WHEN = Group(
    "when",
    gettext_lazy("When, and under what sky"),
    ("evening", "clock", "spot", "moon_up", "snow", "note"),
    is_folded=False,
)
EXPOSURE = Group(
    "exposure",
    gettext_lazy("The frames"),
    ("camera", "f_number", "seconds", "iso"),
    gettext_lazy("The same for all directions, near the middle of each frame."),
    is_folded=False,
)


class DirectionField(forms.Field):
    """The zenith, as None, or an azimuth from true north through east, 30° up; or its name."""

    widget = forms.TextInput(attrs={"list": "directions", "autocomplete": "off"})

    def clean(self, value: Any) -> float | None:
        text = str(value or "").strip()
        if not text:
            raise ValidationError(_("No direction is written here; write zenith, or like 135."))
        if text.casefold() in ("zenith", _("zenith").casefold()):
            return None
        named = [22.5 * n for n, point in enumerate(POINTS) if text.casefold() == str(point)]
        number = named[0] if named else as_number(text.removesuffix("°"))
        if number is None or not 0 <= number <= 360:
            raise ValidationError(
                _(
                    "“%(value)s” is no direction; write zenith, degrees from 0 to 360, like 135, "
                    "or a point like south-east."
                ),
                params={"value": text[:40]},
            )
        return number % 360


class ReadingsForm(MeteredForm):
    """What the readings of one evening share; `how` says whether frames made them.

    `seen` holds what was echoed last: only what a person has seen is saved.
    """

    evening = forms.DateField(
        label=gettext_lazy("Evening of"),
        widget=forms.DateInput(attrs={"type": "date"}),
        help_text=gettext_lazy("After midnight it is still the evening before."),
    )
    clock = ClockField(
        label=gettext_lazy("Time"), help_text=gettext_lazy("On the clocks of the site.")
    )
    spot = forms.ModelChoiceField(
        queryset=Spot.objects.none(),
        required=False,
        label=gettext_lazy("Spot"),
        empty_label=gettext_lazy("none in particular"),
    )
    moon_up = forms.BooleanField(required=False, label=gettext_lazy("The Moon was up"))
    snow = forms.BooleanField(required=False, label=gettext_lazy("Snow on the ground"))
    note = forms.CharField(
        required=False,
        max_length=200,
        label=gettext_lazy("Note"),
        help_text=gettext_lazy("Haze, the meter’s number, lamps that were off."),
    )
    camera = forms.ModelChoiceField(
        queryset=Camera.objects.none(),
        label=gettext_lazy("Camera"),
        empty_label=gettext_lazy("choose one"),
    )
    how = forms.CharField(widget=forms.HiddenInput, required=False)
    seen = forms.CharField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, site: Site, how: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.site = site
        self.at: datetime | None = None
        self.fields["how"].initial = how
        self.fields["spot"].queryset = site.spots.current()  # type: ignore[attr-defined]
        meters = Camera.objects.filter(pk__in=[one.pk for one in meters_of(site.organisation)])
        self.fields["camera"].queryset = meters  # type: ignore[attr-defined]
        if how != FRAME:
            for name in EXPOSURE.fields:
                del self.fields[name]
        self.fields["note"].widget.attrs["dir"] = "auto"
        dress(self)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        evening, clock = cleaned.get("evening"), cleaned.get("clock")
        if evening and clock is not None:
            self._settle(evening, clock)
        if "camera" in self.fields:
            self._check_exposure()
        return cleaned

    def _settle(self, evening: Any, clock: Any) -> None:
        try:
            self.at = instant_of(evening, clock, self.site.zone)
        except OverflowError:
            self.add_error("evening", _("That evening is outside the years that are computed."))
            return
        if self.at is None:
            words = _("The clocks were put forward over that hour: look at the time again.")
            self.add_error("clock", words)

    def _check_exposure(self) -> None:
        try:
            self.frame_of(0.5)
        except SkyError as error:
            self.refuse(error)

    def shared(self) -> dict[str, Any]:
        """Give what every reading of the evening has."""
        asked = self.cleaned_data
        names = ("spot", "moon_up", "snow", "note")
        how = FRAME if "camera" in self.fields else METER
        return {name: asked[name] for name in names} | {
            "at": self.at,
            "how": how,
            "camera": asked.get("camera"),
        }


class ReadingForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    """One direction: a magnitude from a meter, or the level of a frame."""

    direction = DirectionField(label=gettext_lazy("Direction"))
    magnitude = DecimalField(
        low=LOWEST, high=HIGHEST, example="21.4", label=gettext_lazy("mag/arcsec²")
    )
    level = LevelField(label=gettext_lazy("Level"))

    class Meta:
        model = DarknessReading
        fields = ["direction", "magnitude", "level", "milky_way_overhead"]

    def __init__(self, *args: Any, how: str, **options: Any) -> None:
        super().__init__(*args, **options)
        del self.fields["magnitude" if how == FRAME else "level"]
        self.frame: MeteredFrame | None = None
        for name in ("magnitude", "level"):
            if name in self.fields:
                self.fields[name].widget.attrs.update(
                    {"inputmode": "decimal", "autocomplete": "off"}
                )
        dress(self)

    def has_changed(self) -> bool:
        """Tell whether a row is filled in; one whose zenith was rubbed out is not."""
        return super().has_changed() and any(
            self[name].data for name in self.fields if name != "DELETE"
        )

    def read_frame(self, whole: ReadingsForm) -> None:
        """Find the magnitude of a frame, with what is typed above the rows."""
        camera, level = whole.cleaned_data.get("camera"), self.cleaned_data.get("level")
        if camera is None or level is None or any(whole[name].errors for name in EXPOSURE.fields):
            return
        try:
            self.frame = whole.frame_of(level)
            if self.frame is not None:
                self.cleaned_data["magnitude"] = metered(camera, self.frame)
        except SkyError as error:
            self.add_error("level" if FIELD_OF.get(error.code) else None, sentence(error))

    def doubts(self) -> list[str]:
        return frame_doubts(self.frame) if self.frame else []

    def reading(self, shared: dict[str, Any]) -> DarknessReading:
        asked = self.cleaned_data
        return DarknessReading(
            azimuth_degrees=asked["direction"],
            magnitude=asked["magnitude"],
            milky_way_overhead=asked["milky_way_overhead"],
            **shared,
        )


ReadingFormSet: Any = rows_of(
    Site, DarknessReading, form=ReadingForm, fk_name="site", extra=3, most=MOST_AT_ONCE
)


class TableForm(forms.Form):
    table = forms.FileField(
        label=gettext_lazy("Table"),
        help_text=gettext_lazy(
            "CSV with the columns time and magnitude; azimuth, moon_up, snow, milky_way, how and "
            "note may be there."
        ),
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        dress(self)
        self.fields["table"].error_messages |= {
            "required": _("No file is chosen; choose one."),
            "empty": _("The file is empty."),
        }
