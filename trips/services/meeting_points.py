"""Where people meet, as a phone is led there: told to whoever may know the site's position."""

from __future__ import annotations

from dataclasses import dataclass

from trips.almanac.places import describe_position, geo_of
from trips.models import TripNight


@dataclass(frozen=True, slots=True)
class MeetingPoint:
    latitude: float
    longitude: float

    @property
    def geo(self) -> str:
        return geo_of(self.latitude, self.longitude)

    @property
    def words(self) -> str:
        return describe_position(self.latitude, self.longitude)


def meeting_point(night: TripNight) -> MeetingPoint | None:
    """Give the position to a member; None where nobody typed one."""
    if night.meeting_latitude is None or night.meeting_longitude is None:
        return None
    return MeetingPoint(night.meeting_latitude, night.meeting_longitude)


def meeting_point_told(night: TripNight) -> MeetingPoint | None:
    """Give it to whoever is no member: not where a sensitive site lies behind it."""
    spots = [spot for spot in (night.spot, night.second_spot) if spot is not None]
    if any(spot.site.position_is_sensitive for spot in spots):
        return None
    return meeting_point(night)
