"""What the picture of the whole sky says, in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from django.utils.text import capfirst
from django.utils.translation import gettext as _

from sky.dome import Standing, WantedStanding, WholeSky
from trips.almanac.bearings import bearing, compass_point, height

# Above, a direction says little.
OVERHEAD_DEGREES = 85.0
STARS_NAMED = 3


def where(standing: Standing) -> str:
    """Give "21° high, south, 176°", or that it is not to be seen."""
    if not standing.is_up:
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
    if not sky.has_band:
        return _("It is too bright for the Milky Way.")
    first, second = (compass_point(azimuth) for azimuth in band.feet_azimuths)
    words = _("The Milky Way stands from %(first)s to %(second)s, %(top)s") % {
        "first": first,
        "second": second,
        "top": _top(band.top),
    }
    if sky.is_open(band.core):
        words = _("%(words)s, its core %(where)s") % {"words": words, "where": briefly(band.core)}
    if sky.is_moonlit:
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
    return _("highest %(where)s") % {"where": briefly(top)}


def _wanted(one: WantedStanding, sky: WholeSky) -> str:
    standing = one.standings[0]
    return _top(standing) if one.is_arch else _seen(standing, sky)


def _seen(standing: Standing, sky: WholeSky) -> str:
    if standing.is_up and not sky.is_open(standing):
        return _("%(where)s, behind the land") % {"where": where(standing)}
    return where(standing)


def _bodies(sky: WholeSky) -> Iterator[str]:
    percent = round(sky.moon_lit * 100)
    yield _("the Moon, %(percent)d %% lit: %(where)s") % {
        "percent": percent,
        "where": _seen(sky.moon, sky),
    }
    up = [each for each in sky.planets if each.standing.is_up]
    for planet in up:
        if not sky.is_wanted(planet.standing):  # it has been told
            yield f"{_(planet.name)}: {_seen(planet.standing, sky)}"
    if not up:
        yield _("no planet is up")


def _stars(sky: WholeSky) -> Iterator[str]:
    """Tell the brightest of those that the light and the land leave."""
    named = sky.stars.named(sky.faintest)
    for star in islice((star for star in named if sky.is_open(star.standing)), STARS_NAMED):
        yield _("%(name)s %(where)s") % {"name": star.name, "where": briefly(star.standing)}


def briefly(standing: Standing) -> str:
    if standing.altitude_degrees >= OVERHEAD_DEGREES:
        return _("overhead")
    return _("%(height)s in the %(point)s") % {
        "height": height(standing.altitude_degrees),
        "point": compass_point(standing.azimuth_degrees),
    }
