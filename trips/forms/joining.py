"""What somebody types who wants a place: first a name and a mail, then what a leader must know."""

from __future__ import annotations

import unicodedata
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.forms.layout import Group, dress
from trips.models import Enrolment, Person
from trips.services.joining import Rest

# Letters that turn round what stands after them, in a sentence or a mail of ours too. The marks
# that scripts need between letters stay.
_TURNING = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}

# The shortest numbers of mobile phones. Common practice, no published source.
LEAST_DIGITS = 6

REST_GROUPS = (
    Group("you", gettext_lazy("You"), ("name", "phone"), is_folded=False),
    Group(
        "emergency",
        gettext_lazy("If something happens to you"),
        ("emergency_name", "emergency_phone"),
        gettext_lazy("Somebody who is not on the trip."),
        is_folded=False,
    ),
    Group(
        "nights",
        gettext_lazy("For your nights"),
        ("experience", "units", "wish"),
        is_folded=False,
    ),
    Group(
        "health",
        gettext_lazy("Health, only if you want"),
        ("health_note", "health_consent"),
        gettext_lazy(
            "What would help in the dark, far from a doctor. Seen by those who lead this trip, by "
            "nobody else, and deleted when your place ends."
        ),
    ),
)


class OneLineField(forms.CharField):
    """A name or a number on one line, in any script."""

    def to_python(self, value: Any) -> str:
        text = super().to_python(value)
        kept = "".join(letter for letter in str(text or "") if not _is_harmful(letter))
        return " ".join(kept.split())

    def validate(self, value: Any) -> None:
        super().validate(value)
        if value and not any(_is_seen(letter) for letter in value):
            raise ValidationError(_("Nothing that can be read is written here; fill it in."))


class PhoneField(OneLineField):
    """A number that can be called, written as people do, in digits of any script."""

    def __init__(self, **options: Any) -> None:
        super().__init__(max_length=40, **options)
        self.widget.attrs |= {"inputmode": "tel", "dir": "auto"}

    def validate(self, value: Any) -> None:
        super().validate(value)
        if value and sum(letter.isdecimal() for letter in value) < LEAST_DIGITS:
            words = _("“%(value)s” cannot be called; write all of it, like +34 600 000 000.")
            raise ValidationError(words, params={"value": value})


class AskForm(forms.Form):
    name = OneLineField(
        label=gettext_lazy("Your name"),
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "name", "dir": "auto"}),
    )
    mail = forms.EmailField(
        label=gettext_lazy("Your mail address"),
        max_length=254,
        widget=forms.EmailInput(attrs={"autocomplete": "email", "spellcheck": "false"}),
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        dress(self)
        self.fields["name"].widget.attrs["autocomplete"] = "name"

    def clean_mail(self) -> str:
        """Refuse a machine by its number, which is well written and no address of people."""
        mail = str(self.cleaned_data["mail"])
        if mail.endswith("]"):
            raise ValidationError(self.fields["mail"].error_messages["invalid"])
        return mail


class RestForm(forms.Form):
    name = OneLineField(label=gettext_lazy("Your name"), max_length=120)
    phone = PhoneField(
        label=gettext_lazy("Your phone"),
        help_text=gettext_lazy("The one that is with you at night."),
        error_messages={"required": gettext_lazy("Nobody could call you; write your number.")},
    )
    emergency_name = OneLineField(label=gettext_lazy("Whom to call"), max_length=120)
    emergency_phone = PhoneField(label=gettext_lazy("Their phone"))
    experience = forms.ChoiceField(
        label=gettext_lazy("Photographing at night"),
        choices=Person.Experience.choices,
        widget=forms.RadioSelect,
    )
    units = forms.ChoiceField(
        label=gettext_lazy("Written for you in"),
        choices=Person.Units.choices,
        widget=forms.RadioSelect,
    )
    wish = forms.CharField(
        label=gettext_lazy("What you would like to photograph"),
        max_length=10_000,
        required=False,
        widget=forms.Textarea(attrs={"rows": "3", "dir": "auto"}),
    )
    health_note = forms.CharField(
        label=gettext_lazy("What they should know"),
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": "3", "dir": "auto"}),
    )
    health_consent = forms.BooleanField(
        label=gettext_lazy("I agree that this note on my health is kept for this trip."),
        required=False,
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        dress(self)
        for name, of in (("name", "name"), ("phone", "tel")):
            self.fields[name].widget.attrs["autocomplete"] = of
        for name in ("emergency_name", "emergency_phone"):
            self.fields[name].widget.attrs |= {"autocomplete": "off", "dir": "auto"}

    def clean(self) -> None:
        if self.cleaned_data.get("health_note") and not self.cleaned_data.get("health_consent"):
            words = _("Health is kept only if you agree: tick the box, or leave the note empty.")
            self.add_error("health_consent", words)

    def rest(self) -> Rest:
        return Rest(**self.cleaned_data)


def said_before(enrolment: Enrolment) -> dict[str, object]:
    """Give what the form shows of somebody at first."""
    person = enrolment.person
    of_person = ("name", "phone", "emergency_name", "emergency_phone", "experience", "units")
    return {name: getattr(person, name) for name in of_person} | {
        "wish": enrolment.wish,
        "health_note": enrolment.health_note,
        "health_consent": enrolment.health_consent_at is not None,
    }


def _is_harmful(letter: str) -> bool:
    is_control = unicodedata.category(letter) == "Cc" and not letter.isspace()
    return is_control or unicodedata.bidirectional(letter) in _TURNING


def _is_seen(letter: str) -> bool:
    return unicodedata.category(letter)[0] in "LNPS"
