"""The night as one list: what people do and what the sky does, by the clock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from django.utils.translation import gettext as _

from trips.almanac.focus_words import star_name
from trips.almanac.local_time import clock
from trips.models import TideTime
from trips.planning.brief.facts import Row, Target
from trips.services.briefs.sky import BriefSky, Pair
from trips.services.night_words import dark_of

SOON_SECONDS = 60


def rows_of(
    sky: BriefSky, targets: Iterable[Target], tides: Iterable[TideTime] = ()
) -> tuple[Row, ...]:
    """Give the rows from meeting to leaving, in their order."""
    night = sky.night
    rows = [
        _row(night.meeting_at, _("Meet, head count"), "meet", sky),
        *_by_sky(sky),
        *_by_light(sky),
        *_focus(sky),
        *(_target(one, sky) for one in targets),
        *_tide(sky, tides),
        _row(night.ends_at, _("Pack up, head count, leave together"), "leave", sky),
    ]
    return in_order(rows)


def in_order(rows: Iterable[Row]) -> tuple[Row, ...]:
    """Meeting and leaving bound the night; of what begins at once a moment comes first."""
    ends = {"meet": -1, "leave": 1}
    return tuple(sorted(rows, key=lambda row: (ends.get(row.kind, 0), row.at, row.until or 0)))


def _row(at: datetime | float, words: str, kind: str, sky: BriefSky, **more: int) -> Row:
    seconds = at if isinstance(at, (int, float)) else at.timestamp()
    return Row(round(seconds), more.get("until"), clock(at, sky.zone), words, kind,
               more.get("number", 0))  # fmt: skip


def _by_sky(sky: BriefSky) -> Iterator[Row]:
    """Give what happens while people are out."""
    row = sky.row
    told: list[tuple[str, Sequence[float]]] = [
        (_("Sunset"), _one(row.sunset)),
        (_("Sunrise"), _one(row.sunrise)),
        (_("Moonset"), row.moonsets),
        (_("Moonrise"), row.moonrises),
    ]
    for start, end in dark_of(row, sky.level):
        told.append((_("Dark. White lights off"), [start]))
        told.append((_("The dark ends"), [end]))
    for words, moments in told:
        yield from (_row(at, words, "sky", sky) for at in moments if _is_out(at, sky))


def _by_light(sky: BriefSky) -> Iterator[Row]:
    lights = (
        (_("Frames of the land by twilight, until %(time)s"), sky.foreground.twilight),
        (_("Frames of the land by moonlight, until %(time)s"), sky.foreground.moonlit),
    )
    for words, spans in lights:
        for start, end in within(spans, sky.out):
            said = words % {"time": clock(end, sky.zone)}
            yield _row(start, said, "foreground", sky, until=round(end))


def _focus(sky: BriefSky) -> Iterator[Row]:
    for stop in sky.focus.stops[:1]:
        if stop.targets and _is_out(stop.at, sky):
            words = _("Focus on %(star)s") % {"star": star_name(stop.targets[0])}
            yield _row(stop.at, words, "focus", sky)


def _target(one: Target, sky: BriefSky) -> Row:
    words = f"{one.number} {one.name}"
    return _row(one.start, words, "target", sky, until=one.end, number=one.number)


def _tide(sky: BriefSky, tides: Iterable[TideTime]) -> Iterator[Row]:
    for tide in tides:
        if _is_out(tide.at.timestamp(), sky):
            words = _("%(which)s, %(height).1f m")
            said = {"which": str(tide.get_kind_display()).capitalize(), "height": tide.height_m}
            yield _row(tide.at, words % said, "sky", sky)
    if sky.night.leave_spot_by is not None:
        yield _row(sky.night.leave_spot_by, _("The spot must be left: the tide"), "count", sky)


def within(spans: Iterable[Pair], out: Pair) -> Iterator[Pair]:
    """Give what of the spans lies inside the hours in which people are out."""
    first, last = out
    for start, end in spans:
        inside = max(start, first), min(end, last)
        if inside[1] - inside[0] >= SOON_SECONDS:
            yield inside


def _is_out(at: float, sky: BriefSky) -> bool:
    first, last = sky.out
    return first <= at <= last


def _one(instant: datetime | None) -> list[float]:
    return [] if instant is None else [instant.timestamp()]
