"""Sunlight in the sky toward a direction: twilight, and daylight for what looks at both.

The model of Schaefer B. E., Vistas in Astronomy 36 (1993) 311, in the form of his program in Sky &
Telescope, May 1998, p. 57, for V. Both from memory; the terms and numbers agree with two public
transcriptions of the program (one leaves the airmass out of the last factor of twilight).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sky.light.airmass import airmass, airmass_scattering
from sky.light.moonlight import scattering

Floats = NDArray[np.float64]

# The Sun's V magnitude and the zero point of his scale; then ergs to nanolamberts.
SUN_MAG, ZERO_MAG, PER_NANOLAMBERT = -26.74, -11.05, 1.11e-15
# Light that is scattered again and again comes from everywhere.
SCATTERED_OFTEN = 440_000.0
# The air alone takes as much. With less, his fit of how twilight brightens toward the horizon
# runs away.
LEAST_EXTINCTION = 0.1


def sunlight(
    altitude_degrees: Floats | float,
    sun_altitude_degrees: Floats | float,
    sun_apart_degrees: Floats | float,
    *,
    extinction: float,
) -> Floats:
    """Give the Sun's light in the sky in nanolamberts; shapes that go together.

    Altitudes apparent; `sun_apart_degrees` between the direction and the Sun. It is the lesser of
    twilight, which grows without end as the Sun rises, and daylight: so the Sun may be up, and
    every instant has a finite answer. At the zenith within 0.4 mag of what was measured on Paranal
    for the Sun between −8 and −15°, within 0.9 at −6° (Patat F. et al., A&A 455 (2006) 385); not
    made for the day.
    """
    result: Floats = np.minimum(
        _twilight(altitude_degrees, sun_altitude_degrees, sun_apart_degrees, extinction),
        _daylight(altitude_degrees, sun_altitude_degrees, sun_apart_degrees, extinction),
    )
    return result


def _twilight(
    altitude: Floats | float, sun_altitude: Floats | float, apart: Floats | float, extinction: float
) -> Floats:
    zenith = 90.0 - np.maximum(altitude, 0.0)
    lower = zenith / (360 * max(extinction, LEAST_EXTINCTION))
    faded = 10 ** (-0.4 * (SUN_MAG - ZERO_MAG + 32.5 - sun_altitude - lower))
    light = faded * 100 / np.maximum(apart, 1.0) * _scattered(altitude, extinction)
    return np.asarray(light / PER_NANOLAMBERT)


def _daylight(
    altitude: Floats | float, sun_altitude: Floats | float, apart: Floats | float, extinction: float
) -> Floats:
    # As low as the horizon: below it twilight is less at once.
    left = 10 ** (-0.4 * extinction * airmass(np.maximum(sun_altitude, 0.0)))
    full = 10 ** (-0.4 * (SUN_MAG - ZERO_MAG + 43.27)) * _scattered(altitude, extinction)
    light = full * (scattering(apart) * left + SCATTERED_OFTEN * (1 - left))
    return np.asarray(light / PER_NANOLAMBERT)


def _scattered(altitude: Floats | float, extinction: float) -> Floats:
    result: Floats = 1 - 10 ** (-0.4 * extinction * airmass_scattering(altitude))
    return result
