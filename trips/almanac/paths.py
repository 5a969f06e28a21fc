"""The paths of Sun and Moon over one stored night: where they rise, stand highest and set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sky.directions import Direction, directions_of, highest, lowest
from sky.spans import Span, Spans, intersect
from trips.almanac.places import Place, place_of
from trips.almanac.records import EVENTS
from trips.models import Night, Site

# A highest this near to the end of what is seen is no culmination.
AT_THE_END = timedelta(minutes=3)


@dataclass(frozen=True, slots=True)
class Passage:
    """One stretch of the Moon above the horizon, as far as it lies between sunset and sunrise.

    `rise` and `set` are None where they happen before sunset or after sunrise; `start` and `end`
    are where the Moon then stands when the night begins and ends. `culmination` is None where it
    is highest at one of the ends.
    """

    rise: Direction | None
    set: Direction | None
    start: Direction
    end: Direction
    culmination: Direction | None


@dataclass(frozen=True, slots=True)
class MoonPath:
    """The Moon's passages of a night; `rises` and `sets` of the whole night, noon to noon.

    `has_dusk` and `has_dawn` tell whether sunset and sunrise bound the night, or its noons do.
    """

    passages: tuple[Passage, ...]
    rises: tuple[Direction, ...]
    sets: tuple[Direction, ...]
    has_dusk: bool
    has_dawn: bool
    is_up_throughout: bool
    is_down_throughout: bool


@dataclass(frozen=True, slots=True)
class SunPath:
    """The Sun's directions by event, and where it stands lowest between the noons."""

    events: dict[str, Direction]
    lowest: Direction


def moon_path(row: Night, site: Site) -> MoonPath:
    """Find the Moon's path over a stored night. Errors: those of Place."""
    place = place_of(site)
    rises, sets = (_instants(seconds) for seconds in (row.moonrises, row.moonsets))
    up = _up(row, rises, sets)
    between = Span(row.sunset or row.start, max(row.sunrise or row.end, row.sunset or row.start))
    # A Sun that does not set leaves the whole night to look at; the pictures say that it is day.
    return MoonPath(
        passages=tuple(_passage(place, seen, rises, sets) for seen in intersect(up, (between,))),
        rises=_standing("moon", place, rises),
        sets=_standing("moon", place, sets),
        has_dusk=row.sunset is not None,
        has_dawn=row.sunrise is not None,
        is_up_throughout=bool(up) and not rises and not sets,
        is_down_throughout=not up,
    )


def sun_path(row: Night, site: Site) -> SunPath:
    """Find the Sun's direction at each event of a stored night. Errors: those of Place."""
    place = place_of(site)
    instants = {name: instant for name in EVENTS if (instant := getattr(row, name)) is not None}
    found = _standing("sun", place, list(instants.values()))
    return SunPath(
        events=dict(zip(instants, found, strict=True)),
        lowest=lowest("sun", place, Span(row.start, row.end)),
    )


def _passage(
    place: Place, seen: Span, rises: Sequence[datetime], sets: Sequence[datetime]
) -> Passage:
    start, end = _standing("moon", place, [seen.start, seen.end])
    top = highest("moon", place, seen)
    inside = seen.start + AT_THE_END < top.instant < seen.end - AT_THE_END
    return Passage(
        rise=start if seen.start in rises else None,
        set=end if seen.end in sets else None,
        start=start,
        end=end,
        culmination=top if inside else None,
    )


def _up(row: Night, rises: Sequence[datetime], sets: Sequence[datetime]) -> Spans:
    """Give when the Moon is up: at noon already where it sets before it rises."""
    if rises and sets:
        is_up = sets[0] < rises[0]
    else:
        is_up = bool(sets) or row.absent.get("moonset") == "moon_never_sets"
    starts = [row.start, *rises] if is_up else list(rises)
    ends = [*sets, row.end] if len(sets) < len(starts) else list(sets)
    return tuple(Span(start, end) for start, end in zip(starts, ends, strict=True))


def _standing(body: str, place: Place, instants: Sequence[datetime]) -> tuple[Direction, ...]:
    found = directions_of(body, place, instants)
    return tuple(
        Direction(instant, altitude, geometric, azimuth)
        for instant, altitude, geometric, azimuth in zip(
            instants,
            found.altitude_degrees.tolist(),
            found.altitude_geometric_degrees.tolist(),
            found.azimuth_degrees.tolist(),
            strict=True,
        )
    )


def _instants(seconds: Sequence[float]) -> list[datetime]:
    return [datetime.fromtimestamp(second, UTC) for second in seconds]
