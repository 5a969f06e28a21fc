"""Radiants of showers of meteors, on the nights of their peaks."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial

from sky.clock import FIRST_DAY, LAST_DAY
from sky.errors import SkyError
from sky.showers import Shower, peaks, showers
from sky.spans import Spans
from sky.targets.matching import nearest, plain
from sky.targets.target import Kind, Listing, Target

# Lower, the air takes most meteors: common practice, no published source.
LEAST_ALTITUDE_DEGREES = 10.0
ONE_DAY = timedelta(days=1)


def target(rest: str) -> Target:
    """Give the radiant of a shower by its code (GEM), within 12 h of each peak.

    It stands where it is at the peak: in the 12 h on either side it drifts by less than a degree.
    Errors: `target_unknown`.
    """
    known = showers()
    if rest not in known:
        names = {shower.code: shower.name for shower in known.values()}
        close = nearest(rest, (*names, *names.values()))
        raise SkyError("target_unknown", name=rest, nearest=close)
    shower = known[rest]
    return Target(
        f"shower:{rest}",
        shower.name,
        (shower.radiant,),
        "moonless",
        LEAST_ALTITUDE_DEGREES,
        active=partial(_around_peaks, rest),
    )


def _around_peaks(code: str, first: date, last: date) -> Spans:
    found = peaks(max(FIRST_DAY, first - ONE_DAY), min(LAST_DAY, last + 2 * ONE_DAY))
    return tuple(peak.span for peak in found if peak.code == code)


def search(text: str) -> list[Listing]:
    wanted = plain(text)
    return [
        listing(shower)
        for shower in showers().values()
        if wanted and (wanted in plain(shower.name) or wanted == plain(shower.code))
    ]


def offered() -> list[Listing]:
    """A shower that comes by day is found by its name and not offered."""
    return [listing(shower) for shower in showers().values() if not shower.is_daytime]


def listing(shower: Shower) -> Listing:
    about = f"shower of meteors, {shower.zhr:.0f} an hour at the zenith"
    if shower.is_daytime:
        about += ", by day: not seen at night"
    return Listing(f"shower:{shower.code}", shower.name, about, other_names=(shower.code,))


KIND = Kind("shower", target, search, offered)
