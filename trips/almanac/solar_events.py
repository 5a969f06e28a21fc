"""Eclipses of the Sun, told by day on their date, with what keeps eyes and cameras whole."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.eclipses.local import LocalEclipse, local_circumstances
from sky.eclipses.solar import solar_eclipses
from sky.place import Place
from trips.almanac.bearings import height
from trips.almanac.contact_words import low_horizon, moments
from trips.almanac.happenings import Happening, from_to, utc_dates
from trips.almanac.local_time import clock, local

TYPES = {
    "total": gettext_lazy("by day, total eclipse of the Sun"),
    "annular": gettext_lazy("by day, annular eclipse of the Sun"),
    "partial": gettext_lazy("by day, partial eclipse of the Sun"),
}
MOMENTS = {
    "total": {"C2": gettext_lazy("totality begins"), "C3": gettext_lazy("totality ends")},
    "annular": {"C2": gettext_lazy("the ring closes"), "C3": gettext_lazy("the ring opens")},
}
ANY_MOMENTS = {
    "C1": gettext_lazy("the Moon touches the Sun"),
    "C2": gettext_lazy("the Moon stands inside the Sun's disc"),
    "greatest": gettext_lazy("greatest eclipse"),
    "C3": gettext_lazy("the Moon leaves the inside of the Sun's disc"),
    "C4": gettext_lazy("the Moon leaves the Sun"),
}


def solar_happenings(first: date, last: date, place: Place) -> list[Happening]:
    """Give the eclipses that a place sees, each on the date of the day it belongs to."""
    found = []
    for eclipse in solar_eclipses(*utc_dates(first, last)):
        seen = local_circumstances(eclipse, place)
        if seen is None:
            continue
        day = local(seen.best.instant, place.zone).date()
        found.append(
            Happening(
                day,
                "solar_eclipse",
                partial(_words, seen, day, place.zone),
                partial(_details, seen, place.zone),
                partial(moments, seen.contacts, ANY_MOMENTS | MOMENTS.get(seen.type, {})),
                partial(_caution, seen),
            )
        )
    return found


def _words(seen: LocalEclipse, day: date, zone: str) -> str:
    by_name = {one.name: one.instant for one in seen.contacts}
    told = from_to(str(TYPES[seen.type]), day, by_name["C1"], by_name["C4"], zone)
    if seen.type != "partial":
        return told
    return _("%(event)s, at most %(share)d %% of its diameter") % {
        "event": told,
        "share": _per_cent(seen.magnitude),
    }


def _details(seen: LocalEclipse, zone: str) -> tuple[str, ...]:
    return (_most(seen, zone), *_lasting(seen), *low_horizon(seen.contacts))


def _most(seen: LocalEclipse, zone: str) -> str:
    return _(
        "Covered most at %(time)s: %(diameter)d %% of the Sun's diameter, %(area)d %% of its disc,"
        " the Sun %(height)s high."
    ) % {
        "time": clock(seen.best.instant, zone),
        "diameter": _per_cent(seen.magnitude),
        "area": _per_cent(seen.obscuration),
        "height": height(seen.best.altitude_degrees),
    }


def _lasting(seen: LocalEclipse) -> Iterator[str]:
    if seen.type == "partial":
        return
    by_name = {one.name: one.instant for one in seen.contacts}
    minutes, seconds = divmod(round((by_name["C3"] - by_name["C2"]).total_seconds()), 60)
    lasting = {"minutes": minutes, "seconds": seconds}
    if seen.type == "total":
        yield _("Wholly covered for about %(minutes)d min %(seconds)d s.") % lasting
    else:
        yield _("The ring stands for about %(minutes)d min %(seconds)d s.") % lasting


def _per_cent(share: float) -> int:
    """Round down: ninety-nine and a half is not all."""
    return min(100, int(share * 100))


def never_look() -> str:
    """Say what keeps eyes whole, wherever an eclipse of the Sun is told of."""
    return _(
        "Never look at the Sun without a certified solar filter (ISO 12312-2), and never through a"
        " camera, a finder, binoculars or a telescope that has no solar filter made for it in front"
        " of the lens: an eye is burnt in seconds and does not hurt. Children need watching."
    )


def _caution(seen: LocalEclipse) -> str:
    never = never_look()
    if seen.type == "total":
        return _(
            "%(never)s Only while the Sun is wholly covered can one look without; the filter goes"
            " back on before totality ends."
        ) % {"never": never}
    return _("%(never)s Here the Sun is never wholly covered: the filter stays on throughout.") % {
        "never": never
    }
