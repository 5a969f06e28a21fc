"""A trip's night with targets, a landmark and dangers, for the tests of its brief."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from tests.trips.joined import EVENING, make_joinable
from tests.trips.making import NOON
from trips.models import (
    Brief,
    Enrolment,
    Hazard,
    Landmark,
    OwnGear,
    TargetEntry,
    TargetList,
    Trip,
    TripInstructor,
    TripNight,
    User,
)
from trips.planning.brief.facts import Facts
from trips.services.briefs.drafts import Draft, draft_of, facts_of
from trips.services.briefs.plans import OF_A_NIGHT, make_missing
from trips.services.briefs.publishing import publish
from trips.services.links import sign

CAMERA = {"sensor_width_mm": 36.0, "sensor_height_mm": 24.0, "pixels_wide": 6000,
          "pixels_high": 4000, "top_iso": 6400}  # fmt: skip


def make_briefed(**fields: Any) -> Trip:
    """Make an open trip that wants the galactic core, below a landmark, and Jupiter."""
    trip = make_joinable(**fields)
    wanted = TargetList.objects.create(organisation=trip.organisation, name="Core")
    TargetEntry.objects.create(
        target_list=wanted, target="milky-way:core", name="Galactic core", weight=1.0,
        light="moonless", field_degrees=60.0,
    )  # fmt: skip
    trip.target_list = wanted
    trip.save()
    spot = the_night(trip).spot
    Landmark.objects.create(
        spot=spot, name="the hut", azimuth_degrees=190.0, top_degrees=4.0, is_seen_at_night=True
    )
    Hazard.objects.create(site=spot.site, spot=spot, kind="edge", text="a drop behind the wall")
    leader = User.objects.create_user("leader@meadow.example", first_name="Nadia")
    led = TripInstructor(trip=trip, user=leader, phone="+34 600 000 009")
    sign(led)
    led.save()
    return trip


def the_night(trip: Trip) -> TripNight:
    """Give the first night, with all that a brief reads."""
    night: TripNight = TripNight.objects.select_related(*OF_A_NIGHT).get(trip=trip, date=EVENING)
    return night


def draft(trip: Trip) -> Draft:
    return draft_of(the_night(trip), now=NOON)


def facts(trip: Trip, units: str = "metric") -> Facts:
    return facts_of(draft(trip), units=units)


def bring(enrolment: Enrolment, kind: str, **spec: Any) -> OwnGear:
    return OwnGear.objects.create(enrolment=enrolment, kind=kind, spec=spec)


def publish_now(
    trip: Trip, *, night: TripNight | None = None, expects: int | None = None,
    is_mailed: bool = False,
) -> Brief:  # fmt: skip
    """Publish the first night's brief, or another's, as who leads."""
    leader = User.objects.get(email="leader@meadow.example")
    return publish(
        night or the_night(trip), by=leader, now=NOON, is_mailed=is_mailed, expects=expects
    )


def make_plans(now: datetime = NOON) -> int:
    return make_missing(clock=lambda: now)
