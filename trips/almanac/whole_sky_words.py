"""What the picture of the whole sky says, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from django.utils.text import capfirst
from django.utils.translation import gettext as _

from sky.dome import Standing, WantedStanding, WholeSky
from trips.almanac.bearings import bearing, compass_point, height

# Above, a direction says little.
OVERHEAD_DEGREES = 85.0
# A sky that has the Sun higher than this shows no Milky Way; half a Moon takes most of it.
BAND_SUN_DEGREES, BAND_LIT = -12.0, 0.5
STARS_NAMED = 3


def where(standing: Standing) -> str:
    """Give "21° high, south, 176°", or that it is not to be seen."""
    if standing.altitude_degrees <= 0:
        return _("below the horizon")
    if standing.altitude_degrees >= OVERHEAD_DEGREES:
        return _("overhead")
    return _("%(height)s high, %(bearing)s") % {
        "height": height(standing.altitude_degrees),
        "bearing": bearing(standing.azimuth_degrees),
    }


def wanted_sentences(sky: WholeSky) -> list[tuple[str, str]]:
    """Give the name of each wanted target, and where it stands."""
    return [(one.name, _wanted(one, sky)) for one in sky.wanted]


def milky_way_sentence(sky: WholeSky) -> str:
    band = sky.milky_way
    if sky.sun.altitude_degrees >= BAND_SUN_DEGREES:
        return _("It is too bright for the Milky Way.")
    first, second = (compass_point(azimuth) for azimuth in band.feet_azimuths)
    words = _("The Milky Way stands from %(first)s to %(second)s, %(top)s") % {
        "first": first,
        "second": second,
        "top": _top(band.top),
    }
    if sky.moon.altitude_degrees > 0 and sky.moon_lit > BAND_LIT:
        words = _("%(words)s; the Moon takes most of it") % {"words": words}
    return f"{words}."


def description(sky: WholeSky) -> str:
    """Say what the picture shows to those who do not see it."""
    parts = [_("The sky as one lies and looks up: north at the top, east on the left.")]
    parts += [f"{name}: {place}." for name, place in wanted_sentences(sky)]
    parts.append(milky_way_sentence(sky))
    parts += [f"{capfirst(words)}." for words in _bodies(sky)]
    if stars := ", ".join(_stars(sky)):
        parts.append(_("Brightest stars: %(stars)s.") % {"stars": stars})
    return " ".join(parts)


def _top(top: Standing) -> str:
    if top.altitude_degrees >= OVERHEAD_DEGREES:
        return _("overhead")
    return _("highest %(height)s in the %(point)s") % {
        "height": height(top.altitude_degrees),
        "point": compass_point(top.azimuth_degrees),
    }


def _wanted(one: WantedStanding, sky: WholeSky) -> str:
    standing = one.standings[0]
    if one.is_arch:
        return _top(standing)
    if is_behind_land(standing, sky):
        return _("%(where)s, behind the land") % {"where": where(standing)}
    return where(standing)


def is_behind_land(standing: Standing, sky: WholeSky) -> bool:
    land = float(sky.skyline.at(np.array([standing.azimuth_degrees]))[0])
    return 0 < standing.altitude_degrees <= land


def _bodies(sky: WholeSky) -> Iterator[str]:
    percent = round(sky.moon_lit * 100)
    yield _("the Moon, %(percent)d %% lit: %(where)s") % {
        "percent": percent,
        "where": where(sky.moon),
    }
    up = [each for each in sky.planets if each.standing.altitude_degrees > 0]
    for planet in up:
        yield f"{_(planet.name)}: {where(planet.standing)}"
    if not up:
        yield _("no planet is up")


def _stars(sky: WholeSky) -> Sequence[str]:
    named = [star for star, name in enumerate(sky.stars.names) if name]
    return [
        _("%(name)s %(where)s") % {"name": sky.stars.names[star], "where": _star(sky, star)}
        for star in named[:STARS_NAMED]
    ]


def _star(sky: WholeSky, star: int) -> str:
    standing = Standing(float(sky.stars.altitudes[star]), float(sky.stars.azimuths[star]))
    if standing.altitude_degrees >= OVERHEAD_DEGREES:
        return _("overhead")
    return _("%(height)s in the %(point)s") % {
        "height": height(standing.altitude_degrees),
        "point": compass_point(standing.azimuth_degrees),
    }
