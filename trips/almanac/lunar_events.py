"""Eclipses of the Moon, as the nights of a place are told of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import partial

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.clock import night_holding
from sky.eclipses.discs import Contact
from sky.eclipses.lunar import LunarEclipse, lunar_eclipses, seen_from
from sky.place import Place
from trips.almanac.contact_words import low_horizon, moments
from trips.almanac.happenings import Happening, from_to, utc_dates

# With less of the Moon in the penumbra a shading is hardly seen: common practice, no published
# source.
LEAST_FOR_CALENDAR = 0.6

TYPES = {
    "total": gettext_lazy("total eclipse of the Moon"),
    "partial": gettext_lazy("partial eclipse of the Moon"),
    "penumbral": gettext_lazy("penumbral eclipse of the Moon"),
}
MOMENTS = {
    "P1": gettext_lazy("the penumbra reaches the Moon"),
    "U1": gettext_lazy("the umbra reaches the Moon"),
    "U2": gettext_lazy("totality begins"),
    "greatest": gettext_lazy("greatest eclipse"),
    "U3": gettext_lazy("totality ends"),
    "U4": gettext_lazy("the umbra leaves the Moon"),
    "P4": gettext_lazy("the penumbra leaves the Moon"),
}


def lunar_happenings(first: date, last: date, place: Place) -> list[Happening]:
    """Give the eclipses of which a place sees a moment between U1 and U4, or P1 and P4."""
    found = []
    for eclipse in lunar_eclipses(*utc_dates(first, last)):
        contacts = seen_from(eclipse, place)
        if eclipse.is_negligible or not _is_seen(eclipse, contacts):
            continue
        night = night_holding(eclipse.greatest, place.zone)
        found.append(
            Happening(
                night,
                "lunar_eclipse",
                partial(_words, eclipse, night, place.zone),
                partial(_details, eclipse, contacts),
                partial(moments, contacts, MOMENTS),
                is_for_calendar=eclipse.penumbral_magnitude >= LEAST_FOR_CALENDAR,
            )
        )
    return found


def _is_seen(eclipse: LunarEclipse, contacts: Sequence[Contact]) -> bool:
    span = eclipse.span
    return any(one.is_visible and span.start <= one.instant <= span.end for one in contacts)


def _words(eclipse: LunarEclipse, night: date, zone: str) -> str:
    span = eclipse.span
    return from_to(str(TYPES[eclipse.type]), night, span.start, span.end, zone)


def _details(eclipse: LunarEclipse, contacts: Sequence[Contact]) -> tuple[str, ...]:
    return (_depth(eclipse), *_dimmed(eclipse), *low_horizon(contacts))


def _dimmed(eclipse: LunarEclipse) -> tuple[str, ...]:
    """Say where an eclipse that makes the night darker is not reckoned with."""
    if eclipse.type == "penumbral":
        return ()
    told = _(
        "How dark it is leaves the eclipse out: the sky is darker than told while the umbra covers"
        " the Moon, and in totality nearly as dark as without it."
    )
    return (told,)


def _depth(eclipse: LunarEclipse) -> str:
    if eclipse.type == "penumbral":
        return _(
            "At most %(share)d %% of the Moon's diameter lies in the penumbra: a faint shading of"
            " one side, hard to see where the share is small."
        ) % {"share": min(100, int(eclipse.penumbral_magnitude * 100))}
    if eclipse.type == "total":
        return _("The whole Moon goes through the umbra and is lit by red light only.")
    return _("At most %(share)d %% of the Moon's diameter lies in the umbra.") % {
        "share": max(1, int(eclipse.umbral_magnitude * 100))
    }
