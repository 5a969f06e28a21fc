"""The Moon's path over a night in sentences: where it rises, how high it comes, what it takes."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.formats import number_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _

from sky.directions import Direction
from trips.almanac.bearings import compass_point, height, pointed
from trips.almanac.local_time import clock
from trips.almanac.paths import MoonPath, Passage

# Shorter than what whole minutes show.
LEAST_HOURS = 0.5 / 60


def moon_sentences(
    path: MoonPath, zone: str, *, dark_hours: float, moonless_hours: float
) -> list[str]:
    """Say the Moon's path, and what it takes of a night's dark, if there is any."""
    sentences = [_joined(_passage(passage, path, zone)) for passage in path.passages]
    sentences = sentences or [_unseen(path, zone)]
    taken = _taken(dark_hours, moonless_hours)
    if _is_part(dark_hours, moonless_hours):
        sentences[-1] += f"; {taken}"  # what it takes belongs to where it is
    elif taken:
        sentences.append(capfirst(taken))
    return [f"{sentence}." for sentence in sentences]


def _unseen(path: MoonPath, zone: str) -> str:
    """Say why the Moon is not seen between sunset and sunrise."""
    if path.is_down_throughout:
        return _("Does not rise between the noons")
    moments = [_sets(one, zone) for one in path.sets] + [_rises(one, zone) for one in path.rises]
    return _("Up by day only: %(moments)s") % {"moments": ", ".join(moments)}


def _passage(passage: Passage, path: MoonPath, zone: str) -> Iterator[str]:
    if path.is_up_throughout:
        yield _("does not set")
    yield _beginning(passage, path, zone)
    if passage.culmination:
        yield _("highest %(height)s in the %(point)s at %(time)s") % {
            "height": height(passage.culmination.altitude_degrees),
            "point": compass_point(passage.culmination.azimuth_degrees),
            "time": _clock(passage.culmination, zone),
        }
    if passage.set:
        yield _sets(passage.set, zone)
    elif not passage.culmination:
        yield _ending(passage, path)


def _beginning(passage: Passage, path: MoonPath, zone: str) -> str:
    if passage.rise:
        return _rises(passage.rise, zone)
    where = {
        "height": height(passage.start.altitude_degrees),
        "point": compass_point(passage.start.azimuth_degrees),
    }
    if path.has_dusk:
        return _("%(height)s up in the %(point)s at sunset") % where
    return _("%(height)s up in the %(point)s at noon") % where


def _ending(passage: Passage, path: MoonPath) -> str:
    where = {
        "height": height(passage.end.altitude_degrees),
        "point": compass_point(passage.end.azimuth_degrees),
    }
    if path.has_dawn:
        return _("%(height)s up in the %(point)s at sunrise") % where
    return _("%(height)s up in the %(point)s at the next noon") % where


def _rises(at: Direction, zone: str) -> str:
    return _("rises %(time)s in the %(point)s") % {
        "time": _clock(at, zone),
        "point": pointed(at.azimuth_degrees),
    }


def _sets(at: Direction, zone: str) -> str:
    return _("sets %(time)s in the %(point)s") % {
        "time": _clock(at, zone),
        "point": pointed(at.azimuth_degrees),
    }


def _taken(dark_hours: float, moonless_hours: float) -> str:
    if dark_hours < LEAST_HOURS:
        return ""
    if moonless_hours < LEAST_HOURS:
        return _("up all through the dark")
    if dark_hours - moonless_hours < LEAST_HOURS:
        return _("down all through the dark")
    taken = number_format(round(dark_hours - moonless_hours, 1), 1)
    return _("it takes %(hours)s\u00a0h of the dark") % {"hours": taken}


def _is_part(dark_hours: float, moonless_hours: float) -> bool:
    return LEAST_HOURS <= moonless_hours <= dark_hours - LEAST_HOURS


def _joined(clauses: Iterator[str]) -> str:
    return capfirst(", ".join(clauses))


def _clock(at: Direction, zone: str) -> str:
    return clock(at.instant, zone)
