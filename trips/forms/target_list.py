"""What people type about a list of targets: its name, and a row for each target."""

from __future__ import annotations

import math
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.targets import find_target, listing_of, target_of, typed_as
from trips.almanac.wording import SkyError, sentence
from trips.forms.fields import DecimalField
from trips.forms.layout import Group, dress
from trips.forms.rows import rows_of
from trips.models import TargetEntry, TargetList
from trips.services.target_lists import LIMITS, MOST_ENTRIES

LIST_GROUPS = (Group("list", gettext_lazy("Name"), ("name", "notes"), is_folded=False),)
# What a row says, as a browser sends it.
ROW = ("target", "name", "light", "least_altitude_degrees", "field_degrees", "weight", "place")
_DECIMAL = {"inputmode": "decimal", "autocomplete": "off"}
_WITH_SIGN = {"inputmode": "text", "autocomplete": "off", "spellcheck": "false"}


class TargetListForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    table = forms.FileField(
        required=False,
        label=gettext_lazy("Or a table"),
        help_text=gettext_lazy(
            "CSV with the columns target, light, least_altitude, field, weight, name; only the "
            "first is needed. It takes the place of all rows."
        ),
    )
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    opened = forms.CharField(widget=forms.HiddenInput, required=False)

    class Meta:
        model = TargetList
        fields = ["name", "notes"]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        dress(self)
        self.fields["table"].error_messages["empty"] = _("The file is empty.")
        self.fields["version"].initial = self.instance.version

    def clean_name(self) -> str:
        name = str(self.cleaned_data["name"])
        organisation = self.instance.organisation
        same = TargetList.objects.current().filter(organisation=organisation, name=name)
        if same.exclude(pk=self.instance.pk).exists():
            raise ValidationError(
                _("There is already a list named “%(name)s”; give this one another name."),
                params={"name": name},
            )
        return name


class TargetEntryForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    """A target by any name; what is left empty is as its kind has it."""

    target = forms.CharField(label=gettext_lazy("Target"))
    name = forms.CharField(max_length=120, required=False, label=gettext_lazy("You call it"))
    least_altitude_degrees = DecimalField(
        low=LIMITS["least_altitude_degrees"][0],
        high=LIMITS["least_altitude_degrees"][1],
        example="20",
        required=False,
        label=gettext_lazy("From (° up)"),
    )
    field_degrees = DecimalField(
        low=LIMITS["field_degrees"][0],
        high=LIMITS["field_degrees"][1],
        example="8.5",
        required=False,
        label=gettext_lazy("Field (°)"),
    )
    weight = DecimalField(
        low=LIMITS["weight"][0],
        high=LIMITS["weight"][1],
        example="0.5",
        required=False,
        label=gettext_lazy("Weight"),
    )
    place = forms.IntegerField(
        min_value=1, max_value=MOST_ENTRIES, required=False, label=gettext_lazy("Place")
    )

    class Meta:
        model = TargetEntry
        fields = [name for name in ROW if name != "place"]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.instance.pk:
            self.initial.update(entry_typed(self.instance))
        light = self.fields["light"]
        light.choices = [("", _("as usual")), *TargetEntry.Light.choices]  # type: ignore[attr-defined]
        self.fields["place"].widget = forms.TextInput()
        for name in ("field_degrees", "weight", "place"):
            self.fields[name].widget.attrs.update(_DECIMAL)
        self.fields["least_altitude_degrees"].widget.attrs.update(_WITH_SIGN)
        self.fields["target"].widget.attrs.update({"list": "targets", "autocomplete": "off"})
        dress(self)

    def clean_target(self) -> str:
        try:
            return find_target(str(self.cleaned_data["target"])).key
        except SkyError as error:
            raise ValidationError(sentence(error)) from None

    def clean_weight(self) -> float:
        weight = self.cleaned_data["weight"]
        return 1.0 if weight is None else float(weight)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if "target" not in cleaned:
            return cleaned
        is_other = cleaned["target"] != self.instance.target
        if is_other and cleaned.get("field_degrees", 0) is None:
            listing = listing_of(cleaned["target"])
            cleaned["field_degrees"] = listing.field_degrees if listing else None
        cleaned["name"] = cleaned.get("name") or target_of(cleaned["target"]).name
        return cleaned

    def wanted_place(self) -> tuple[float, int]:
        """Give what rows are sorted by: one that was moved goes before the row that it moves up to,
        and behind the one that it moves down to; one without a place comes last."""
        place = self.cleaned_data.get("place")
        if place is None:
            return math.inf, 0
        came_from = int(self.initial.get("place", place))
        return place, (place > came_from) - (place < came_from)


def entry_typed(entry: TargetEntry) -> dict[str, str]:
    """Give what of an entry a person would type otherwise than it is stored."""
    typed = typed_as(entry.target)
    name = "" if entry.name == typed else entry.name
    return {"target": typed, "name": name, "place": str(entry.order + 1)}


TargetEntryFormSet: Any = rows_of(
    TargetList, TargetEntry, form=TargetEntryForm, extra=3, most=MOST_ENTRIES
)
