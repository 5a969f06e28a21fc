"""Numbers that sky limits: what is out of range is refused in the words that sky's codes have."""

from __future__ import annotations

import math
from typing import Any

from django import forms

from trips.almanac.camera import Limited, check
from trips.almanac.wording import SkyError, sentence
from trips.forms.fields import DecimalField

LONGEST = 40  # of what is typed, so that a mistake can be repeated
# What stands beside a number on a lens, and is typed with it.
MARKS: dict[Limited, tuple[str, ...]] = {
    "focal_length": ("mm",),
    "sensor_size": ("mm",),
    "f_number": ("f/", "1:", "f"),
    "exposure_time": ("s",),
    "iso": ("iso",),
    "declination": ("°",),
}


class LimitedField(DecimalField):
    def __init__(self, *, limited: Limited, **options: Any) -> None:
        self.limited = limited
        marks = MARKS.get(limited, ())
        super().__init__(low=-math.inf, high=math.inf, marks=marks, **options)

    def validate(self, value: Any) -> None:
        super().validate(value)
        if value is None:
            return
        try:
            check(self.limited, value)
        except SkyError as error:
            raise forms.ValidationError(sentence(error)) from None


def limited(limited: Limited, label: Any, *, example: str, help_text: Any = "") -> LimitedField:
    """Give a field that may be left empty."""
    return LimitedField(
        limited=limited,
        label=label,
        example=example,
        help_text=help_text,
        required=False,
        widget=typed_number(),
    )


def typed_number() -> forms.TextInput:
    return forms.TextInput(
        attrs={"inputmode": "decimal", "autocomplete": "off", "size": 7, "maxlength": LONGEST}
    )
