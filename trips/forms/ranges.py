"""One number or two ends as they are printed on lenses: 24, 24-70, f/3.5-5.6; and two between which
something is wanted."""

from __future__ import annotations

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

LONGEST = 40
_NUMBER = r"(\d{1,6}(?:[.,]\d{1,4})?)"
UNITS = re.compile(r"\s*[°%]")
RANGE = re.compile(rf"{_NUMBER}(?:\s*[-–—−]\s*{_NUMBER})?")


class RangeField(forms.CharField):
    """Gives (number, None) or (first, second); the lens itself says what they may be."""

    def __init__(self, *, example: str, marks: tuple[str, ...], **options: Any) -> None:
        self.example, self.marks = example, marks
        typed = {"autocomplete": "off", "maxlength": LONGEST, "spellcheck": "false"}
        super().__init__(
            max_length=LONGEST,
            widget=forms.TextInput(attrs=typed),
            error_messages={"required": _written(example)},
            **options,
        )

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value)
        if not text:
            return None
        bare = text.lower()
        for mark in self.marks:
            bare = bare.removeprefix(mark).removesuffix(mark).strip()
        read = RANGE.fullmatch(bare)
        if read is None:
            words = _("“%(value)s” cannot be read; write it like %(example)s.")
            raise ValidationError(words, params={"value": text, "example": self.example})
        first, second = (float(one.replace(",", ".")) if one else None for one in read.groups())
        return first, second

    def run_validators(self, value: Any) -> None:
        """Leave out the validators of texts: the value is none."""

    def prepare_value(self, value: Any) -> Any:
        if not isinstance(value, tuple):
            return value
        return "-".join(f"{one:.10g}" for one in value if one is not None)


class BetweenField(RangeField):
    """Two numbers from `low` to `high`, the smaller first; `usual` where nothing is written."""

    def __init__(
        self, *, usual: tuple[float, float], low: float, high: float, **options: Any
    ) -> None:
        self.usual, self.low, self.high = usual, low, high
        super().__init__(example=self.prepare_value(usual), marks=(), required=False, **options)

    def to_python(self, value: Any) -> Any:
        found = super().to_python(UNITS.sub("", str(value or "")))
        if found is None:
            return self.usual
        least, most = found
        if most is None or not self.low <= least < most <= self.high:
            words = _(
                "Write two numbers from %(low)g to %(high)g, the smaller first, like %(example)s."
            )
            said = {"low": self.low, "high": self.high, "example": self.example}
            raise ValidationError(words, params=said)
        return least, most

    def prepare_value(self, value: Any) -> Any:
        return "–".join(f"{one:.10g}" for one in value) if isinstance(value, tuple) else value


def _written(example: str) -> str:
    return _("Nothing is written here; write it like %(example)s.") % {"example": example}
