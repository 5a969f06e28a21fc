"""What a target's page asks: a bag of lenses, a sensor, and how wide the picture should be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.camera import Lens, Sensor, sensor_by_name, sensor_names, sensor_of
from trips.almanac.camera_words import sensor_choices
from trips.forms.bag import LONGEST_TEXT, read_bag
from trips.forms.limited import limited
from trips.forms.words import word_mistakes
from trips.models import Camera

USUAL = {"bag": "14 f/2.8, 24 f/1.4, 50 f/1.8, 135 f/2, 300 f/4", "sensor": "full-frame"}
NAMES, REMEMBERED = ("bag", "sensor", "field"), ("bag", "sensor")
CLUB = "club-"


class BagForm(forms.Form):
    bag = forms.CharField(
        label=gettext_lazy("Lenses in the bag"),
        max_length=LONGEST_TEXT,
        widget=forms.Textarea(attrs={"rows": 2, "autocomplete": "off", "spellcheck": "false"}),
        help_text=gettext_lazy("As written on them: 14 f/2.8, 24-70 f/2.8, 8 f/3.5 fisheye."),
        error_messages={
            "required": gettext_lazy("No lens is named here; write one like 24 f/1.4.")
        },
    )
    sensor = forms.ChoiceField(label=gettext_lazy("Sensor"))
    field = limited(
        "wanted_field", gettext_lazy("Picture as wide as (°)"), example="5",
        help_text=gettext_lazy("Nobody said how wide; write what you want."),
    )  # fmt: skip

    def __init__(
        self, cameras: Sequence[Camera], *, usual_field: float | None, **options: Any
    ) -> None:
        super().__init__(auto_id="ask_%s", label_suffix="", **options)
        self.cameras = {_key(camera): camera for camera in cameras}
        named = [(key, camera.name) for key, camera in self.cameras.items()]
        common: list[Any] = sensor_choices()
        sensor = self.fields["sensor"]
        assert isinstance(sensor, forms.ChoiceField)  # noqa: S101 - for the type checker
        sensor.choices = [(_("Cameras of the club"), named), *common] if named else common
        if usual_field is not None:
            words = _("Empty: %(degrees)g, as usual for the target.")
            self.fields["field"].help_text = words % {"degrees": usual_field}
        for name, field in self.fields.items():
            word_mistakes(name, field)

    def clean_bag(self) -> tuple[Lens, ...]:
        """Keep what can be read; what cannot is told beside it, or refused if nothing is left."""
        read = read_bag(self.cleaned_data["bag"])
        self.strange = read.mistakes
        if not read.lenses:
            raise forms.ValidationError(list(read.mistakes))
        return read.lenses

    strange: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Bag:
    """Lenses on a sensor, the width that was typed (None: as usual), and what was not read."""

    lenses: tuple[Lens, ...]
    sensor: Sensor
    width_degrees: float | None
    strange: tuple[str, ...]


def read_bag_asked(
    asked: Mapping[str, Any],
    remembered: Mapping[str, Any],
    cameras: Sequence[Camera],
    *,
    usual_field: float | None,
) -> tuple[BagForm, Bag | None]:
    """Read the address; what it leaves out is as remembered, else usual."""
    usual = USUAL | {name: remembered[name] for name in REMEMBERED if name in remembered}
    if usual["sensor"] not in (*sensor_names(), *map(_key, cameras)):
        usual["sensor"] = USUAL["sensor"]  # a camera that is gone since, or another club's
    known = {name: asked.get(name, usual.get(name, "")) for name in NAMES}
    form = BagForm(cameras, usual_field=usual_field, data=known)
    if not form.is_valid():
        return form, None
    said = form.cleaned_data
    camera = form.cameras.get(said["sensor"])
    sensor = sensor_of(camera) if camera else sensor_by_name(said["sensor"])
    return form, Bag(said["bag"], sensor, said["field"], form.strange)


def _key(camera: Camera) -> str:
    return f"{CLUB}{camera.pk}"
