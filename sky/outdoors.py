"""What cold air does to lenses and to people: dew point and wind chill."""

from __future__ import annotations

import math

from sky.errors import SkyError

# Of saturation over water, hPa and °C: WMO-No. 8, Guide to Instruments and Methods of
# Observation, annex 4.B. It holds from −45 to 60 °C.
MAGNUS_SLOPE, MAGNUS_CELSIUS = 17.62, 243.12
DEW_LOWEST_C, DEW_HIGHEST_C = -45.0, 60.0

# Where the wind chill of 2001 is defined, as definitions have it.
CHILL_HIGHEST_C, CHILL_LEAST_KMH = 10.0, 4.8


def dew_point_c(air_c: float, humidity: float) -> float | None:
    """Give the temperature (°C) at which air begins to wet what it touches.

    Td = c·g / (b − g), g = ln(humidity / 100) + b·T / (c + T), over water; `air_c` in °C,
    `humidity` in percent, above 0 to 100. None where the formula is not made for the air: below
    −45 °C or above 60 °C. Errors: `humidity_out_of_range`.

    WMO-No. 8, annex 4.B.
    """
    if not 0 < humidity <= 100:
        raise SkyError("humidity_out_of_range", value=humidity)
    if not DEW_LOWEST_C <= air_c <= DEW_HIGHEST_C:
        return None
    g = math.log(humidity / 100) + MAGNUS_SLOPE * air_c / (MAGNUS_CELSIUS + air_c)
    return MAGNUS_CELSIUS * g / (MAGNUS_SLOPE - g)


def wind_chill_c(air_c: float, wind_kmh: float) -> float | None:
    """Give the wind chill (°C) of air in °C and wind in km/h, as measured 10 m up.

    13.12 + 0.6215 T − 11.37 V^0.16 + 0.3965 T V^0.16. None above 10 °C or below 4.8 km/h, where it
    is not defined. Errors: `wind_out_of_range` below 0.

    US National Weather Service and Environment Canada, 1 November 2001; the metric form is from
    memory, and tests hold it to the chart in °F and mph.
    """
    if not wind_kmh >= 0:
        raise SkyError("wind_out_of_range", value=wind_kmh)
    if not air_c <= CHILL_HIGHEST_C or wind_kmh < CHILL_LEAST_KMH:
        return None
    blown = math.pow(wind_kmh, 0.16)
    return 13.12 + 0.6215 * air_c - 11.37 * blown + 0.3965 * air_c * blown
