"""The pictures of a night's brief, as SVG: where each target is found, the whole sky, the night."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime

from trips.almanac.local_time import clock
from trips.planning.brief.facts import Sky, Target
from trips.services.brief_pictures import Wanted, brief_sky, finder, night_strip, svg
from trips.services.briefs.sky import BriefSky, Placed


def with_pictures(targets: Iterable[Target], sky: BriefSky) -> tuple[Target, ...]:
    """Give the targets, each with the picture of where it is found."""
    return tuple(
        replace(target, picture=_finder(placed, sky))
        for target, placed in zip(targets, sky.placed, strict=True)
    )


def _finder(placed: Placed, sky: BriefSky) -> str:
    at = _instant(placed.one.at)
    found = finder(sky.row, sky.spot, _wanted(placed), at, landmarks=sky.landmarks)
    return svg(found, prefix=f"find{placed.number}") if found else ""


def night_picture(sky: BriefSky) -> str:
    """Draw the night to scale, with the targets' own stretches."""
    windows = [(one.number, _instant(one.start), _instant(one.end)) for one in sky.placed]
    night = sky.night
    strip = night_strip(
        sky.row, sky.zone, windows,
        dark_level=sky.level, meet_at=night.meeting_at, ends_at=night.ends_at,
    )  # fmt: skip
    return svg(strip, prefix="night")


def skies_of(sky: BriefSky) -> tuple[Sky, ...]:
    """Draw the whole sky when each target is best; the ways to it are those to this one."""
    return tuple(_skies(sky))


def _skies(sky: BriefSky) -> Iterator[Sky]:
    for placed in sky.placed:
        at = _instant(placed.one.at)
        wanted = [_wanted(one) for one in _first(placed, sky.placed)]
        picture = brief_sky(sky.row, sky.spot, wanted, at, landmarks=sky.landmarks)
        yield Sky(
            at=round(placed.one.at),
            clock=clock(at, sky.zone),
            picture=svg(picture, prefix=f"sky{placed.number}"),
            hold=picture.holding,
            pointers=picture.pointer_words,
        )


def _first(one: Placed, all_of_them: Sequence[Placed]) -> list[Placed]:
    return [one, *(other for other in all_of_them if other is not one)]


def _wanted(placed: Placed) -> Wanted:
    return Wanted(placed.one.target.key, placed.one.name, placed.number)


def _instant(seconds: float) -> datetime:
    return datetime.fromtimestamp(seconds, UTC)
