"""A night for people who have not signed in yet: invented, so that nobody's site is shown."""

from __future__ import annotations

from datetime import date

from trips.charts.bands import NightBands

# Minutes after noon, as on a clear early-autumn night in the forties of latitude.
INVENTED_NIGHT = NightBands(
    date=date(2027, 9, 8),
    civil=((514, 1186),),
    nautical=((542, 1158),),
    astronomical=((575, 1125),),
    dark=((608, 1092),),
    moon_up=((120, 650),),
    veil=((514, 650),),
    lit=0.4,
    waxing=True,
    usable=(650, 840),
    out=((650, 840),),
    offsets=(120, 120),
)
