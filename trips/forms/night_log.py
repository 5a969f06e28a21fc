"""What people type of a night that is over."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from trips.forms.layout import Group, dress
from trips.forms.of_model import decimal
from trips.models import TripNight

LOG = Group(
    "log",
    gettext_lazy("The night"),
    ("oktas", "clear_hours", "came", "log_note"),
    is_folded=False,
)


class NightLogForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    oktas = forms.TypedChoiceField(
        label=gettext_lazy("Cloud"),
        coerce=int,
        empty_value=None,
        required=False,
        choices=[
            ("", gettext_lazy("nobody looked")),
            (0, gettext_lazy("0 eighths, no cloud")),
            *((n, gettext_lazy("%d eighths") % n) for n in range(1, 8)),
            (8, gettext_lazy("8 eighths, overcast")),
        ],
        help_text=gettext_lazy("Of the whole sky, as it was for most of the session."),
        error_messages={"invalid_choice": gettext_lazy("Cloud is counted from 0 to 8 eighths.")},
    )
    clear_hours = decimal(TripNight, "clear_hours", "2.5")
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    instance: TripNight

    class Meta:
        model = TripNight
        fields = list(LOG.fields)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["came"].widget.attrs |= {"inputmode": "numeric", "max": "500"}
        self.fields["log_note"].help_text = gettext_lazy(
            "Deleted with what is kept of people; what lasts belongs into the notes of the site."
        )
        self.fields["log_note"].widget.attrs |= {"rows": "5", "dir": "auto"}
        self.fields["version"].initial = self.instance.version
        dress(self)
