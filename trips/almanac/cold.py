"""What the air of a night does to lenses and to people, from what is known of it."""

from __future__ import annotations

from dataclasses import dataclass

from sky.outdoors import dew_point_c, wind_chill_c

TYPED, MONTH = "typed", "month"


@dataclass(frozen=True, slots=True)
class Air:
    """The lowest temperature of a night, with what is known beside it.

    `how`: `typed` for this very night, or usual in its `month`; `source` says who has it from
    where, "" where nobody wrote it down.
    """

    air_c: float
    humidity_percent: float | None
    wind_kmh: float | None
    how: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Cold:
    """`dew_point_c` None where no humidity is known, `wind_chill_c` where no wind is or none of
    the temperature and wind for which it is defined."""

    air: Air
    dew_point_c: float | None
    wind_chill_c: float | None

    @property
    def above_dew_c(self) -> float | None:
        """Give how far the air is above the dew point."""
        return None if self.dew_point_c is None else self.air.air_c - self.dew_point_c


def cold_of(air: Air) -> Cold:
    humidity, wind = air.humidity_percent, air.wind_kmh
    return Cold(
        air,
        None if humidity is None else dew_point_c(air.air_c, humidity),
        None if wind is None else wind_chill_c(air.air_c, wind),
    )
