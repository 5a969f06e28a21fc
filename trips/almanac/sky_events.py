"""What happens in the sky of a place, subject by subject: showers, eclipses, close pairs."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from sky.close_pairs import close_approaches
from sky.place import Place
from trips.almanac.happenings import Happening, utc_dates
from trips.almanac.lunar_events import lunar_happenings
from trips.almanac.pair_events import pair_happenings
from trips.almanac.shower_events import shower_happenings
from trips.almanac.solar_events import solar_happenings

# In the order in which a night tells them: the rarest first.
SUBJECTS = (solar_happenings, lunar_happenings, shower_happenings, pair_happenings)


def tabulate(first: date, last: date) -> None:
    """Put the planets' tables of these nights on disk, before a page asks what happens in them."""
    close_approaches(*utc_dates(first, last))


@lru_cache(maxsize=256)
def sky_happenings(first: date, last: date, place: Place) -> tuple[Happening, ...]:
    """Give what falls into the nights named `first` to `last`, subject by subject."""
    return tuple(
        happening
        for subject in SUBJECTS
        for happening in subject(first, last, place)
        if first <= happening.night <= last
    )
