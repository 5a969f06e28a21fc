"""What of a night's sky a brief tells: computed once for all who read it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from trips.almanac.focus import FocusPlan, focus_plan
from trips.almanac.foreground import Foreground, foreground_of
from trips.almanac.needle import Needle, needle_at
from trips.almanac.nights import compute_nights
from trips.almanac.paths import SunPath, sun_path
from trips.almanac.tonight import TargetTonight, Tonight, between, tonight
from trips.almanac.windows import spot_place
from trips.models import Landmark, Night, Spot, TargetEntry, TripNight
from trips.planning.brief.slots import Wanted, slots
from trips.services.gear_nights import DARK_LEVEL
from trips.services.night_times import spot_decided
from trips.services.refusals import RefusedError

Pair = tuple[float, float]
MOST_TARGETS = 3


@dataclass(frozen=True, slots=True)
class Placed:
    """A target with its number and its own stretch of the night, in Unix seconds; `one` is as it
    stands then, `stands_right` when it does at all."""

    number: int
    one: TargetTonight
    start: float
    end: float
    stands_right: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class BriefSky:
    """A night at the spot where it is decided to go; `others` are wanted and not among the
    three."""

    night: TripNight
    row: Night
    level: int
    spot: Spot
    landmarks: tuple[Landmark, ...]
    tonight: Tonight
    placed: tuple[Placed, ...]
    others: tuple[TargetTonight, ...]
    sun: SunPath
    focus: FocusPlan
    foreground: Foreground
    needle: Needle

    @property
    def zone(self) -> str:
        return str(self.spot.site.zone)

    @property
    def out(self) -> Pair:
        return out_of(self.night)


def out_of(night: TripNight) -> Pair:
    """Give from when to when people are out, in Unix seconds."""
    return night.meeting_at.timestamp(), night.ends_at.timestamp()


def sky_of(night: TripNight, entries: Iterable[TargetEntry]) -> BriefSky:
    """Compute the night; one query. Errors: `RefusedError`, and those of the sky."""
    spot, site = spot_decided(night), spot_decided(night).site
    level = night.trip.season.dark_level if night.trip.season else DARK_LEVEL
    out = out_of(night)
    seen = tonight(entries, site, spot, night.date, dark_level=level, hours=out)
    row = _row(night, spot)
    chosen = sorted(seen.targets, key=_worth)[:MOST_TARGETS]
    placed = tuple(_placed(chosen, spot))
    return BriefSky(
        night=night,
        row=row,
        level=level,
        spot=spot,
        landmarks=tuple(spot.landmarks.all()),
        tonight=seen,
        placed=placed,
        others=tuple(one for one in seen.targets if one not in chosen),
        sun=sun_path(row, site),
        focus=focus_plan(row, site, spot, out=out, wanted=[(one.start, one.end) for one in placed]),
        foreground=foreground_of(site, spot, night.date),
        needle=needle_at(spot_place(site, spot), night.date),
    )


def _row(night: TripNight, spot: Spot) -> Night:
    """Compute the night anew: what is stored may be of an older position, or not be there."""
    found = compute_nights(spot.site, night.date, night.date)
    if not found:
        raise RefusedError(
            _("The clocks of %(zone)s left this date out: there is no such night.")
            % {"zone": spot.site.zone}
        )
    return found[0]


def _worth(one: TargetTonight) -> tuple[float, float]:
    """What counts most comes first, of equals what stands right for longest."""
    return -one.weight, -sum(end - start for start, end in one.spans)


def _placed(chosen: Sequence[TargetTonight], spot: Spot) -> Iterator[Placed]:
    """Number them in their order, each as it stands in its own stretch."""
    found = slots([Wanted(one.spans, one.at, one.weight) for one in chosen])
    for number, (place, hours) in enumerate(found.items(), 1):
        yield Placed(
            number, between(chosen[place], hours, spot.site, spot), *hours, chosen[place].spans
        )
