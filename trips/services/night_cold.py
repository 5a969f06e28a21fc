"""What is known of the air of a trip's night: typed for it, else usual in its month."""

from __future__ import annotations

from collections.abc import Iterable

from trips.almanac.cold import MONTH, TYPED, Air, Cold, cold_of
from trips.models import SiteMonth, TripNight
from trips.services.night_times import spot_decided


def cold_of_night(night: TripNight, months: Iterable[SiteMonth]) -> Cold | None:
    """Give dew point and wind chill; `months` are those of any sites. None: nothing is known.

    What was typed counts as a whole: a humidity of the month does not go with a temperature of
    the night.
    """
    air = _typed(night) or _usual(night, months)
    return cold_of(air) if air else None


def _typed(night: TripNight) -> Air | None:
    if night.air_c is None:
        return None
    return Air(night.air_c, night.humidity_percent, night.wind_kmh, TYPED)


def _usual(night: TripNight, months: Iterable[SiteMonth]) -> Air | None:
    wanted = (spot_decided(night).site_id, night.date.month)
    for one in months:
        if (one.site_id, one.month) == wanted:
            return Air(one.low_c, one.humidity_percent, one.wind_kmh, MONTH, one.source)
    return None
