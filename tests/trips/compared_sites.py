"""Sites to be compared, each with a night for each figure given."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta

from sky.spans import Span
from trips.planning.comparing import Compared, compared
from trips.planning.nights import Block, JudgedNight
from trips.planning.runs import Run, Stretch
from trips.planning.season_view import SiteSeason

FIRST = date(2027, 12, 30)
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Place:
    name: str
    drive_minutes: int | None = None
    sky_brightness: float | None = None
    latitude: float = 40.0
    longitude: float = -1.0
    night_access: str = "unknown"
    months_open: list[int] = field(default_factory=list, hash=False)
    zone: str = "UTC"
    road_closed_from: date | None = None
    road_closed_to: date | None = None


def night(day: date, hours: float, *, starts: float = 0, why_not: str | None = None) -> JudgedNight:
    """Make a night with one spell of moonless dark, `starts` hours after 20:00 UTC."""
    dusk = datetime(day.year, day.month, day.day, 20, tzinfo=UTC) + timedelta(hours=starts)
    span = Span(dusk, dusk + timedelta(hours=hours))
    return JudgedNight(
        date=day,
        dark_hours=8,
        moonless_hours=hours + 1,
        moonless_hours_out=hours,
        moon_illuminated=0.1,
        block=Block(span.start, span.end, hours) if hours else None,
        is_candidate=hours >= 2,
        counted_hours_out=hours,
        moonless_usable_hours=hours,
        counted_out=((span.start.timestamp(), span.end.timestamp()),) if hours else (),
        why_not=why_not,
    )


def nights(*hours: float, first: date = FIRST, why_not: str | None = None) -> list[JudgedNight]:
    return [night(first + ONE_DAY * n, each, why_not=why_not) for n, each in enumerate(hours)]


def season(place: Place, of: list[JudgedNight], *firsts: date) -> SiteSeason[Place]:
    runs = tuple(
        Run(Stretch(day, day, 3, 1), 1, datetime(2028, 1, 1, tzinfo=UTC), (), None)
        for day in firsts
    )
    return SiteSeason(
        site=place, nights=tuple(of), runs=runs, months=(), candidates=0, longest_run=0,
        candidates_by_level={}, never_dark_by_level={}, left_out={},
    )  # fmt: skip


def site(name: str, *hours: float, **known: object) -> Compared[Place]:
    return compared(season(Place(name, **known), nights(*hours)))  # type: ignore[arg-type]


def names(sites: list[Compared[Place]]) -> list[str]:
    return [each.site.name for each in sites]
