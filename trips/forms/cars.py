"""Cars of a trip as typed, and who is chosen to drive each on which night."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.forms.layout import dress
from trips.forms.rows import Rows, rows_of
from trips.models import Car, Trip, TripNight
from trips.services.cars import MOST_CARS, Driver, Wheel

PREFIX = "cars"


class CarForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    class Meta:
        model = Car
        fields = ["name", "seats"]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["name"].help_text = ""  # said once, above the rows
        self.fields["seats"].widget.attrs |= {"inputmode": "numeric", "max": "60"}
        dress(self)


class CarRows(Rows):
    def clean(self) -> None:
        super().clean()
        if any(self.errors):
            return
        kept = [form for form in self.forms if form not in self.deleted_forms]
        names = [form.cleaned_data["name"] for form in kept if form.cleaned_data.get("name")]
        for name, times in Counter(name.casefold() for name in names).items():
            if times > 1:
                first = next(one for one in names if one.casefold() == name)
                words = _("“%(name)s” stands here twice: rescuers must tell the cars apart.")
                raise ValidationError(words % {"name": first})


CarFormSet: Any = rows_of(Trip, Car, formset=CarRows, form=CarForm, extra=3, most=MOST_CARS)


class DriversForm(forms.Form):
    """A choice for each car on each night."""

    def __init__(
        self,
        *args: Any,
        nights: Sequence[TripNight],
        cars: Sequence[Car],
        drivers: Sequence[Driver],
        driven: Mapping[Wheel, str],
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        choices = [("", _("stays at home")), *((one.key, _told(one)) for one in drivers)]
        self.wheels = {_name(night, car): (night.pk, car.pk) for night in nights for car in cars}
        for name, wheel in self.wheels.items():
            self.fields[name] = forms.ChoiceField(
                choices=choices,
                required=False,
                initial=driven.get(wheel, ""),
                error_messages={
                    "invalid_choice": _("Whoever was chosen is no longer on the trip: choose "
                                        "somebody else.")
                },
            )  # fmt: skip
        for night in nights:
            for car in cars:
                label = _("%(car)s on %(night)s")
                day = date_format(night.date, "D j F")
                self.fields[_name(night, car)].label = label % {"car": car, "night": day}

    def chosen(self) -> dict[Wheel, str]:
        return {wheel: self.cleaned_data[name] for name, wheel in self.wheels.items()}

    def rows(
        self, nights: Sequence[TripNight], cars: Sequence[Car]
    ) -> list[tuple[TripNight, list[tuple[Car, forms.BoundField]]]]:
        """Give the choices night by night, one for each car."""
        return [(night, [(car, self[_name(night, car)]) for car in cars]) for night in nights]


def _name(night: TripNight, car: Car) -> str:
    return f"wheel-{night.pk}-{car.pk}"


def _told(driver: Driver) -> str:
    if driver.drove_last is None:
        return driver.name
    words = _("%(name)s (drives last on %(day)s)")
    return words % {"name": driver.name, "day": date_format(driver.drove_last, "j F")}
