"""Personal plans are made anew where what they were made from has changed: a sweep finds none."""

from __future__ import annotations

from trips.models import Enrolment, PersonalPlan, TripNight


def forget_plans(enrolment: Enrolment) -> None:
    """Of a person whose gear, loans, name or units have changed."""
    PersonalPlan.objects.filter(enrolment=enrolment).delete()


def forget_plans_of(night: TripNight) -> None:
    """Of everybody on a night whose turns have changed."""
    PersonalPlan.objects.filter(brief__night=night).delete()
