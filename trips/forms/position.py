"""A form with a position, typed as two angles or pasted whole into the first of their fields."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from trips.forms.fields import DecimalField
from trips.forms.typed_position import read_angle, read_position


class MaybePastedInput(forms.TextInput):
    """A browser must let it be empty: the field before it may hold both angles."""

    def use_required_attribute(self, initial: Any) -> bool:  # noqa: ARG002 - the widget's way
        return False


class PositionForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
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

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.is_bound:
            self.data = parted(self.data, ("latitude", "longitude"))


def parted(data: Any, names: tuple[str, str]) -> Any:
    """Give the data with a position that was pasted whole into the first of two fields in both.

    Degrees, minutes and seconds pasted into one field are written as degrees.
    """
    latitude, longitude = (str(data.get(name, "")) for name in names)
    pair = None if longitude.strip() else read_position(latitude)
    read = pair or (read_angle(latitude, "NS"), read_angle(longitude, "EW"))
    data = data.copy()  # a QueryDict as it comes cannot be changed
    for name, angle in zip(names, read, strict=True):
        if angle is not None:
            data[name] = f"{angle:.10g}"
    return data
