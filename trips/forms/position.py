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
        self._part_pasted_position()

    def _part_pasted_position(self) -> None:
        """A position pasted whole into the first of two fields is put into both.

        Degrees, minutes and seconds pasted into one field are written as degrees.
        """
        latitude, longitude = (str(self.data.get(name, "")) for name in ("latitude", "longitude"))
        pair = read_position(latitude) if self.is_bound and not longitude.strip() else None
        read = pair or (read_angle(latitude, "NS"), read_angle(longitude, "EW"))
        for name, angle in zip(("latitude", "longitude"), read, strict=True):
            if self.is_bound and angle is not None:
                self.data = self.data.copy()  # type: ignore[attr-defined]  # a QueryDict or a dict
                self.data[name] = f"{angle:.10g}"  # type: ignore[index]  # it is no longer fixed
