"""What people type of a test frame: how it was exposed, and the level of its background."""

from __future__ import annotations

import math
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from trips.almanac.metering import MeteredFrame
from trips.almanac.wording import SkyError, sentence
from trips.forms.fields import DecimalField
from trips.forms.limited import MARKS

# The computation knows what can be, and its refusals are worded.
ANY: dict[str, Any] = {"low": -math.inf, "high": math.inf}
_KEYPAD = {"inputmode": "decimal", "autocomplete": "off"}
# Refusal → the field that it is about.
FIELD_OF = {
    "f_number_outside": "f_number",
    "frame_seconds_outside": "seconds",
    "frame_iso_outside": "iso",
    "frame_black": "level",
    "frame_burnt_out": "level",
    "known_sky_outside": "known_mag",
}


class LevelField(DecimalField):
    """A share of the full scale; 3 % is read as 0.03."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**ANY, example="0.03", **options)
        self.widget.attrs.update({"inputmode": "text", "autocomplete": "off"})

    def to_python(self, value: Any) -> float | None:  # type: ignore[override]
        text = str(value or "").strip()
        if not text.endswith("%"):
            return super().to_python(value)
        percent = super().to_python(text.removesuffix("%"))
        return None if percent is None else percent / 100


class MeteredForm(forms.Form):
    f_number = DecimalField(
        **ANY, example="2.8", marks=MARKS["f_number"], label=gettext_lazy("f-number")
    )
    seconds = DecimalField(
        **ANY, example="20", marks=MARKS["exposure_time"], label=gettext_lazy("Exposure time (s)")
    )
    iso = DecimalField(**ANY, example="3200", marks=MARKS["iso"], label=gettext_lazy("ISO"))

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for name in ("f_number", "seconds", "iso"):
            self.fields[name].widget.attrs.update(_KEYPAD)

    def frame_of(self, level: float) -> MeteredFrame | None:
        """Give the frame as typed, with a level; None where its numbers are not all there.

        Errors: `SkyError` for numbers that cannot be.
        """
        typed = [self.cleaned_data.get(name) for name in ("f_number", "seconds", "iso")]
        f_number, seconds, iso = typed
        if f_number is None or seconds is None or iso is None:
            return None
        return MeteredFrame(f_number, seconds, iso, level)

    def refuse(self, error: SkyError) -> None:
        """Put a refusal to the field that it is about."""
        field = FIELD_OF.get(error.code)
        self.add_error(field if field in self.fields else None, sentence(error))
