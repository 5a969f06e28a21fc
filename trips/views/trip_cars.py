"""Cars of a trip, and who drives them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trips.forms.cars import PREFIX, CarFormSet, DriversForm
from trips.forms.layout import Mistake, mistakes
from trips.models import Car, Drive, Trip, TripNight
from trips.services.cars import drivers_of, save_cars, set_drivers
from trips.services.planned_trip import driver_key
from trips.services.refusals import RefusedError
from trips.views.kept_typing import typing_kept
from trips.views.members import member, require_leader, trip_of


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def trip_cars(request: HttpRequest, trip_id: int) -> HttpResponse:
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    typed = request.POST if request.method == "POST" else None
    rows = CarFormSet(typed, instance=trip, prefix=PREFIX)
    if typed is not None and rows.is_valid():
        kept = rows.save(commit=False)
        seen = [row.instance.pk for row in rows.initial_forms]
        save_cars(trip, kept=kept, dropped=rows.deleted_objects, seen=seen, by=member(request),
                  now=timezone.now())  # fmt: skip
        messages.success(request, _("The cars are saved."))
        return redirect("trip_drivers" if trip.cars.exists() else "trip_detail", trip.pk)
    context = {"trip": trip, "rows": rows, "mistakes": _row_mistakes(rows)}
    return render(request, "trips/trip_cars.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def trip_drivers(request: HttpRequest, trip_id: int) -> HttpResponse:
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    nights = list(TripNight.objects.filter(trip=trip).select_related("spot"))
    cars = list(Car.objects.filter(trip=trip))
    form = _drivers_form(request, trip, nights, cars)
    if form.is_valid() and _set(request, trip, form):
        return redirect("trip_detail", trip.pk)
    context = {
        "trip": trip,
        "form": form,
        "cars": cars,
        "rows": form.rows(nights, cars),
        "mistakes": mistakes(form),
    }
    return render(request, "trips/trip_drivers.html", context)


def _drivers_form(
    request: HttpRequest, trip: Trip, nights: list[TripNight], cars: list[Car]
) -> DriversForm:
    drives = Drive.objects.filter(night__trip=trip)
    return DriversForm(
        request.POST if request.method == "POST" else None,
        nights=nights,
        cars=cars,
        drivers=drivers_of(trip),
        driven={(drive.night_id, drive.car_id): driver_key(drive) for drive in drives},
    )


def _set(request: HttpRequest, trip: Trip, form: DriversForm) -> bool:
    try:
        set_drivers(trip, form.chosen(), by=member(request), now=timezone.now())
    except RefusedError as error:
        form.add_error(None, error.sentence)
        return False
    messages.success(request, _("The drivers are saved."))
    return True


def _row_mistakes(rows: Any) -> list[Mistake]:
    """Say which row it is: all of them have fields of the same names."""
    whole = [Mistake("", "", str(words)) for words in rows.non_form_errors()]
    label = _("Car %(number)d, %(field)s")
    return whole + [
        replace(one, label=label % {"number": number, "field": one.label.lower()})
        for number, row in enumerate(rows.forms, 1)
        for one in mistakes(row)
    ]
