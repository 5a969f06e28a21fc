"""What a trip's nights ask of gear: wanted targets under their sky, cold, dew, the cabin."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from trips.almanac.targets import starter_entries, starter_for
from trips.almanac.tonight import Tonight, tonight
from trips.almanac.windows import known
from trips.almanac.wording import SkyError
from trips.models import Season, SiteMonth, TargetEntry, Trip, TripNight
from trips.planning.cold_advice import DEW_NEAR_C
from trips.planning.gear_check import Plan
from trips.services.night_cold import cold_of_night

DARK_LEVEL = Season.DarkLevel.ASTRONOMICAL.value
# Wider than the widest lens that most bring sees, 14 mm on full frame. Common practice.
PANORAMA_PAST_DEGREES = 100.0
ARCHES = ("milky-way:arch",)


def entries_of(trip: Trip, night: TripNight) -> list[TargetEntry]:
    """Give what the trip wants, else its season, else the list that suits site and month.

    Entries of a starter list are not saved. One query, where there is a list.
    """
    wanted = trip.target_list_id or (trip.season.target_list_id if trip.season else None)
    if wanted is not None:
        return list(known(TargetEntry.objects.filter(target_list=wanted)))
    return starter_entries(starter_for(night.spot.site.latitude, night.date))


def tonight_of(trip: Trip, night: TripNight, entries: Iterable[TargetEntry]) -> Tonight | None:
    """Give the night as cameras meet it between meeting and end; None where it cannot be
    computed."""
    level = trip.season.dark_level if trip.season else DARK_LEVEL
    out = night.meeting_at.timestamp(), night.ends_at.timestamp()
    try:
        return tonight(
            entries, night.spot.site, night.spot, night.date, dark_level=level, hours=out
        )
    except SkyError:
        return None


def next_night(nights: Sequence[TripNight], *, now: datetime) -> TripNight | None:
    """Give the night that is on or comes next, else the last one; None of a trip without any."""
    coming = (one for one in nights if one.ends_at > now)
    return next(coming, nights[-1] if nights else None)


def plan_of(
    trip: Trip,
    nights: Iterable[TripNight],
    months: Iterable[SiteMonth],
    entries: Iterable[TargetEntry],
) -> Plan:
    """Say what all nights together ask: the coldest of them, dew on any."""
    told = list(months)
    colds = [cold for night in nights if (cold := cold_of_night(night, told))]
    above = [cold.above_dew_c for cold in colds if cold.above_dew_c is not None]
    return Plan(
        has_panorama=any(wants_panorama(one.target, one.field_degrees) for one in entries),
        coldest_c=min((cold.air.air_c for cold in colds), default=None),
        is_dewy=min(above) <= DEW_NEAR_C if above else None,
        cabin_length_cm=trip.cabin_length_cm,
        cabin_weight_kg=trip.cabin_weight_kg,
    )


def wants_panorama(target: str, field_degrees: float | None) -> bool:
    """Tell whether a target is wider than one frame of what people bring."""
    return target in ARCHES or (field_degrees or 0.0) > PANORAMA_PAST_DEGREES
