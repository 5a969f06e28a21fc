"""Close pairs of Moon, planets and bright stars, as the nights of a place are told of them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial

from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.close_pairs import close_approaches, limit_of
from sky.pair_nights import PairNight, nights_of_pairs
from sky.place import Place
from trips.almanac.bearings import height, pointed
from trips.almanac.happenings import Happening, at, utc_dates
from trips.almanac.local_time import clock

# Wider pairs would crowd a calendar, the Moon's above all: common practice, no published source.
WIDEST_FOR_CALENDAR, WIDEST_WITH_MOON = 2.0, 1.0

NAMES = {
    "moon": gettext_lazy("the Moon"),
    "mercury": gettext_lazy("Mercury"),
    "venus": gettext_lazy("Venus"),
    "mars": gettext_lazy("Mars"),
    "jupiter": gettext_lazy("Jupiter"),
    "saturn": gettext_lazy("Saturn"),
    "alcyone": gettext_lazy("the Pleiades"),
    "aldebaran": gettext_lazy("Aldebaran"),
    "regulus": gettext_lazy("Regulus"),
    "spica": gettext_lazy("Spica"),
    "antares": gettext_lazy("Antares"),
}


def pair_happenings(first: date, last: date, place: Place) -> Iterator[Happening]:
    """Give the pairs that a place sees close together in the night of their least separation.

    By day they may stand nearer, and from the Earth's centre: it is the place's night that counts.
    """
    for seen in nights_of_pairs(close_approaches(*utc_dates(first, last)), place):
        if seen.separation_degrees > limit_of(seen.approach.pair):
            continue
        yield Happening(
            seen.night,
            "pair",
            partial(_words, seen, place.zone),
            partial(_details, seen, place.zone),
            is_for_calendar=seen.separation_degrees <= _widest(seen),
        )


def _widest(seen: PairNight) -> float:
    return WIDEST_WITH_MOON if "moon" in seen.approach.pair else WIDEST_FOR_CALENDAR


def _words(seen: PairNight, zone: str) -> str:
    return at(_apart(seen), seen.night, seen.best, zone)


def _apart(seen: PairNight) -> str:
    one, other = (NAMES[member] for member in seen.approach.pair)
    return _("%(one)s %(separation)s° from %(other)s") % {
        "one": one,
        "other": other,
        "separation": number_format(round(seen.separation_degrees, 1), 1),
    }


def _details(seen: PairNight, zone: str) -> tuple[str, ...]:
    first = seen.approach.pair[0]
    where = _("Nearest in the dark and twilight at %(time)s: %(one)s %(height)s high, %(point)s.")
    from_centre = _("Seen from the Earth's centre they stand nearest at %(time)s, %(least)s°.")
    return (
        where
        % {
            "time": clock(seen.best, zone),
            "one": NAMES[first],
            "height": height(seen.altitude_degrees),
            "point": pointed(seen.azimuth_degrees),
        },
        from_centre
        % {
            "time": clock(seen.approach.instant, zone),
            "least": number_format(round(seen.approach.separation_degrees, 1), 1),
        },
    )
