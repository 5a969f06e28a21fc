"""What to do about cold and dew, as codes worded elsewhere.

Common practice, no published source, but for bare skin, whose source stands beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

# Under a clear sky glass grows some degrees colder than the air around it.
DEW_NEAR_C = 3.0
BATTERIES_C = 5.0
# Bare skin freezes within half an hour: footnote of the wind chill chart, US National Weather
# Service, 1 November 2001 (−18 °F).
FROSTBITE_C = -28.0
BITING_C = -10.0


class ColdNight(Protocol):
    @property
    def above_dew_c(self) -> float | None: ...
    @property
    def wind_chill_c(self) -> float | None: ...


def advice(cold: ColdNight | None, air_c: float | None) -> tuple[str, ...]:
    """Give codes in the order of a night; where nothing is known, what holds on any cold one."""
    return tuple(_advice(cold, air_c))


def _advice(cold: ColdNight | None, air_c: float | None) -> Iterator[str]:
    yield "cool_down"
    above = cold.above_dew_c if cold else None
    if above is None:
        yield "dew_unknown"
    elif above <= DEW_NEAR_C:
        yield "dew"
    if air_c is None or air_c <= BATTERIES_C:
        yield "batteries"
    felt = cold.wind_chill_c if cold else None
    if felt is not None and felt <= FROSTBITE_C:
        yield "frostbite"
    elif felt is not None and felt <= BITING_C:
        yield "biting"
    yield "warm_up"
