"""Peaks of showers of meteors, as the night nearest to each is told of them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.place import Place
from sky.shower_nights import ShowerNight, nights_of_peaks
from sky.showers import peaks
from trips.almanac.bearings import height, pointed
from trips.almanac.happenings import Happening, at, utc_dates
from trips.almanac.local_time import clock

# Fewer an hour are hardly told from the meteors of any night: common practice, no published source.
LEAST_FOR_CALENDAR = 10.0

NAMES = {
    "QUA": gettext_lazy("Quadrantids"),
    "LYR": gettext_lazy("April Lyrids"),
    "ETA": gettext_lazy("eta Aquariids"),
    "ARI": gettext_lazy("Daytime Arietids"),
    "SDA": gettext_lazy("Southern delta Aquariids"),
    "CAP": gettext_lazy("alpha Capricornids"),
    "PER": gettext_lazy("Perseids"),
    "AUR": gettext_lazy("Aurigids"),
    "DRA": gettext_lazy("Draconids"),
    "ORI": gettext_lazy("Orionids"),
    "STA": gettext_lazy("Southern Taurids"),
    "NTA": gettext_lazy("Northern Taurids"),
    "LEO": gettext_lazy("Leonids"),
    "GEM": gettext_lazy("Geminids"),
    "URS": gettext_lazy("Ursids"),
}


def shower_happenings(first: date, last: date, place: Place) -> Iterator[Happening]:
    """Give the peaks in the nights of a place; a shower that comes by day is not told of."""
    at_night = tuple(peak for peak in peaks(*utc_dates(first, last)) if not peak.is_daytime)
    for seen in nights_of_peaks(at_night, place):
        yield Happening(
            seen.night,
            "shower",
            partial(_words, seen, place.zone),
            partial(_details, seen, place.zone),
            is_for_calendar=seen.rate is not None and seen.peak.zhr >= LEAST_FOR_CALENDAR,
        )


def _words(seen: ShowerNight, zone: str) -> str:
    name = _("peak of the %(shower)s") % {"shower": NAMES[seen.peak.code]}
    told = at(name, seen.night, seen.peak.instant, zone)
    return _("%(event)s, spoilt by the Moon") % {"event": told} if seen.is_spoilt else told


def _details(seen: ShowerNight, zone: str) -> tuple[str, ...]:
    return (
        *_best(seen, zone),
        _(
            "With the radiant overhead the peak would give %(zhr)d; years differ, and so do the"
            " hours of the peak. Told for the night nearest to it only: how fast the shower rises"
            " and falls is not in our tables."
        )
        % {"zhr": seen.peak.zhr},
    )


def _best(seen: ShowerNight, zone: str) -> Iterator[str]:
    if seen.dark_level is None:
        yield _("It does not get dark in this night.")
    elif seen.best is None:
        yield _("The radiant stays below the horizon while it is dark.")
    else:
        yield _(
            "In the dark the radiant stands highest at %(time)s, %(height)s high in the %(point)s:"
            " %(rate)s meteors an hour then under a perfect sky, fewer under any other."
        ) % {
            "time": clock(seen.best, zone),
            "height": height(seen.radiant_altitude_degrees or 0.0),
            "point": pointed(seen.radiant_azimuth_degrees or 0.0),
            "rate": _rate(seen.rate or 0.0),
        }
    if seen.is_spoilt:
        yield _(
            "Spoilt by the Moon, %(lit)d %% lit and %(height)s high then: only bright meteors are"
            " left."
        ) % {
            "lit": round(seen.peak.moon_illuminated * 100),
            "height": height(seen.moon_altitude_degrees or 0.0),
        }


def _rate(rate: float) -> str:
    return _("fewer than one") if rate < 1 else _("about %(rate)d") % {"rate": round(rate)}
