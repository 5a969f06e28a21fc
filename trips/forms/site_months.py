"""A site's months as typed: a row each, left empty where nobody knows."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.dates import MONTHS
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.forms.layout import dress
from trips.forms.of_model import decimal
from trips.models import SiteMonth

NUMBERS = ("low_c", "humidity_percent", "wind_kmh")
EXAMPLES = {"low_c": "-2", "humidity_percent": "85", "wind_kmh": "12"}


class SiteMonthsForm(forms.Form):
    source = forms.CharField(
        required=False,
        max_length=200,
        label=gettext_lazy("Where the figures are from"),
        help_text=gettext_lazy("A station and its years, or whose diary."),
        widget=forms.TextInput(attrs={"autocomplete": "off", "dir": "auto"}),
    )

    def __init__(self, *args: Any, stored: Iterable[SiteMonth], **options: Any) -> None:
        super().__init__(*args, **options)
        known = {one.month: one for one in stored}
        if known:
            self.fields["source"].initial = next(iter(known.values())).source
        for month in MONTHS:
            for name in NUMBERS:
                field = decimal(SiteMonth, name, EXAMPLES[name])
                field.required = False
                field.initial = getattr(known.get(month), name, None)
                field.label = f"{MONTHS[month]}: {field.label}"
                field.widget.attrs |= {"inputmode": "decimal", "autocomplete": "off", "size": 6}
                self.fields[_field(month, name)] = field
        dress(self)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        for month in MONTHS:
            low, *others = (cleaned.get(_field(month, name)) for name in NUMBERS)
            if low is None and _field(month, "low_c") not in self.errors and any(
                other is not None for other in others
            ):  # fmt: skip
                words = _("Write the usual low of %(month)s too, or leave its row empty.")
                self.add_error(_field(month, "low_c"), words % {"month": MONTHS[month]})
        return cleaned

    def months(self) -> list[SiteMonth]:
        """Give the rows that say something."""
        read = self.cleaned_data
        return [
            SiteMonth(
                month=month,
                source=read["source"],
                **{name: read[_field(month, name)] for name in NUMBERS},
            )
            for month in MONTHS
            if read[_field(month, "low_c")] is not None
        ]

    def rows(self) -> list[tuple[str, list[forms.BoundField]]]:
        return [
            (str(MONTHS[month]), [self[_field(month, name)] for name in NUMBERS])
            for month in MONTHS
        ]


def _field(month: int, name: str) -> str:
    return f"{name}_{month}"
