"""Which site to name first, which comes near it, and whose darkness is worth the drive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic

from trips.planning.comparing import Compared, KnownSite, KnownT

# A site with this share of the best one's usable hours is nearly as good.
NEARLY = 0.95
# Within this share of the best, hours do not decide between sites.
ALIKE = 0.98
# Smaller differences are no reason to choose a site.
LEAST_NEARER_MINUTES = 5
LEAST_DARKER = 0.1  # mag/arcsec²


@dataclass(frozen=True, slots=True)
class Answer(Generic[KnownT]):
    """What the comparison comes to.

    `best` are those with the most usable hours, equals together, the nearest first. `other` is
    the site to name beside them: one `is_close` in hours and nearer, or else darker, or else the
    next in hours. `nearer` (minutes, may be negative) and `darker` (mag/arcsec², may be negative)
    say how it differs from the first of the best, None where nobody knows or nobody would mind.
    `alike` counts the sites whose hours hardly differ from the most, `spread_hours` says by how
    much they do. Drive and darkness decide between them, but of `undecided` of them nobody knows
    both.
    """

    best: tuple[Compared[KnownT], ...]
    other: Compared[KnownT] | None
    is_close: bool
    nearer: int | None
    darker: float | None
    alike: int
    undecided: int
    spread_hours: float

    @property
    def farther(self) -> int:
        return -(self.nearer or 0)


@dataclass(frozen=True, slots=True)
class Drives(Generic[KnownT]):
    """Sites by what their drive gives.

    `worth` are darker than every nearer site, from the nearest on. `not_darker` have each the
    site to drive to instead, at least as near and as dark. Nobody has measured `unmeasured`, or
    typed the drive of `undriven`.
    """

    worth: tuple[KnownT, ...]
    not_darker: tuple[tuple[KnownT, KnownT], ...]
    unmeasured: tuple[KnownT, ...]
    undriven: tuple[KnownT, ...]


def answer(sites: Sequence[Compared[KnownT]]) -> Answer[KnownT] | None:
    """Say which site gives the most and which comes near it; None where no hour is usable."""
    able = sorted((site for site in sites if site.usable_minutes), key=_most_then_nearest)
    if not able:
        return None
    first, most = able[0], able[0].usable_minutes
    best = [site for site in able if site.usable_minutes == most]
    rest = able[len(best) :]
    close = [site for site in rest if site.usable_minutes >= NEARLY * most]
    alike = [site for site in able if site.usable_minutes >= ALIKE * most]
    instead = _nearest(first, close) or _darkest(first, close)
    other = instead or next(iter(rest), None)
    return Answer(
        best=tuple(best),
        other=other,
        is_close=instead is not None,
        nearer=_nearer(first, other) if other else None,
        darker=_darker(first, other) if other else None,
        alike=len(alike),
        undecided=sum(not _is_known(site.site) for site in alike),
        spread_hours=(most - alike[-1].usable_minutes) / 60,
    )


def drives(sites: Sequence[KnownT]) -> Drives[KnownT]:
    """Weigh darkness against the way there; equals in both are worth the same."""
    placed = sorted(
        (site for site in sites if _is_known(site)),
        key=lambda site: (site.drive_minutes, -site.sky_brightness),
    )
    worth: list[KnownT] = []
    not_darker: list[tuple[KnownT, KnownT]] = []
    for site in placed:
        if not worth or _is_worth_more(site, worth[-1]):
            worth.append(site)
        else:
            as_dark = (each for each in worth if each.sky_brightness >= site.sky_brightness)
            not_darker.append((site, next(as_dark)))
    return Drives(
        worth=tuple(worth),
        not_darker=tuple(not_darker),
        unmeasured=tuple(site for site in sites if site.sky_brightness is None),
        undriven=tuple(site for site in sites if site.drive_minutes is None),
    )


def _most_then_nearest(site: Compared[KnownT]) -> tuple[int, float]:
    return -site.usable_minutes, _drive(site)


def _is_known(site: KnownSite) -> bool:
    return site.drive_minutes is not None and site.sky_brightness is not None


def _drive(site: Compared[KnownT]) -> float:
    minutes = site.site.drive_minutes
    return float("inf") if minutes is None else float(minutes)


def _nearest(first: Compared[KnownT], close: Sequence[Compared[KnownT]]) -> Compared[KnownT] | None:
    nearer = [site for site in close if (_nearer(first, site) or 0) > 0]
    return min(nearer, key=_drive, default=None)


def _darkest(first: Compared[KnownT], close: Sequence[Compared[KnownT]]) -> Compared[KnownT] | None:
    darker = [site for site in close if (_darker(first, site) or 0) > 0]
    return max(darker, key=lambda site: float(site.site.sky_brightness), default=None)


def _nearer(first: Compared[KnownT], other: Compared[KnownT]) -> int | None:
    here, there = first.site.drive_minutes, other.site.drive_minutes
    if here is None or there is None or abs(here - there) < LEAST_NEARER_MINUTES:
        return None
    return int(here - there)


def _darker(first: Compared[KnownT], other: Compared[KnownT]) -> float | None:
    here, there = first.site.sky_brightness, other.site.sky_brightness
    # Rounded: from 21.4 to 21.5 is a tenth, whatever the binary form of both.
    if here is None or there is None or abs(step := round(there - here, 2)) < LEAST_DARKER:
        return None
    return float(step)


def _is_worth_more(site: KnownT, last: KnownT) -> bool:
    is_equal = (site.drive_minutes, site.sky_brightness) == (
        last.drive_minutes,
        last.sky_brightness,
    )
    return is_equal or bool(site.sky_brightness > last.sky_brightness)
