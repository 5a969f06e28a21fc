"""The pictures of a night's brief: drawn once as SVG for every look, and as PNG for mail."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import resvg_py
from django.template.loader import render_to_string
from django.utils.text import capfirst
from django.utils.translation import gettext as _

from trips.almanac.finder import finding, named_target, pointed_sky
from trips.almanac.fists import told
from trips.almanac.local_time import clock, local
from trips.almanac.pointers import how_to_hold, pointer_words
from trips.almanac.whole_sky_words import description
from trips.charts.brief_night import NightStrip, Window
from trips.charts.brief_night import night_strip as night_drawn
from trips.charts.brief_sky import BriefSky
from trips.charts.brief_sky import brief_sky as sky_drawn
from trips.charts.course import course_of
from trips.charts.finder import Finder
from trips.charts.finder import finder as finder_drawn
from trips.models import Landmark, Night, Spot
from trips.services.picture_looks import FAMILY, FONTS, colours, style

TEMPLATES: dict[type, str] = {
    Finder: "trips/_brief_finder.html",
    BriefSky: "trips/_brief_sky.html",
    NightStrip: "trips/_brief_night.html",
}
HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Wanted:
    """A target by its key, under the name that its list has for it and its number in the brief."""

    key: str
    name: str
    number: int


def finder(
    row: Night, spot: Spot, wanted: Wanted, at: datetime, *, landmarks: Sequence[Landmark]
) -> Finder | None:
    """Draw where a target is found; None of one that is down or does not happen."""
    target = named_target(wanted.key, wanted.name)
    found = finding(row, spot, target, at, landmarks=landmarks)
    if found is None:
        return None
    title = _("%(target)s at %(time)s") % {"target": wanted.name, "time": clock(at, spot.site.zone)}
    said = [f"{capfirst(told(found.counted))}."]
    if found.sky.skyline.is_level:
        said.append(_("Drawn over level land: no skyline was measured here."))
    return finder_drawn(found, title=title, description=" ".join(said))


def brief_sky(
    row: Night, spot: Spot, wanted: Sequence[Wanted], at: datetime, *,
    landmarks: Sequence[Landmark],
) -> BriefSky:  # fmt: skip
    """Draw the whole sky with pointers to the first of the targets that needs some."""
    # What is wanted at two times has two numbers and stands in one place.
    places = dict.fromkeys((one.key, one.name) for one in wanted)
    targets = [named_target(key, name) for key, name in places]
    found = pointed_sky(row, spot, targets, at, landmarks=landmarks)
    words = tuple(map(pointer_words, found.pointers))
    return sky_drawn(
        found,
        labels=[_numbers(one.name, wanted) for one in found.sky.wanted],
        title=_("The whole sky at %(time)s") % {"time": clock(at, spot.site.zone)},
        description=" ".join((description(found.sky), *words)),
        holding=how_to_hold(found.landmarks),
        pointer_words=words,
    )


def night_strip(
    row: Night, zone: str, windows: Sequence[tuple[int, datetime, datetime]], *,
    dark_level: int, meet_at: datetime, ends_at: datetime,
) -> NightStrip:  # fmt: skip
    """Draw a night from the hour before people meet, or dusk, to the hour after they part, or dawn.

    `windows` each its number, from, to.
    """
    course = course_of(row, zone, dark_level=dark_level)
    starts = min(meet_at, row.sunset or meet_at)
    ends = max(ends_at, row.sunrise or ends_at)
    first = max(row.start, _whole_hour(starts, zone))
    last = min(row.end, _whole_hour(ends, zone) + HOUR)
    placed = [
        Window(number, _minutes(row, start), _minutes(row, end)) for number, start, end in windows
    ]
    said = [
        _("%(number)d: %(start)s to %(end)s.") % {
            "number": number, "start": clock(start, zone), "end": clock(end, zone)
        }
        for number, start, end in windows
    ]  # fmt: skip
    return night_drawn(
        course,
        placed,
        shown=(_minutes(row, first), _minutes(row, last)),
        noon=row.start.timestamp(),
        title=_("The night, %(start)s to %(end)s") % {
            "start": clock(first, zone), "end": clock(last, zone)
        },
        description=" ".join(said) or _("No target has a window."),
    )  # fmt: skip


def svg(picture: Finder | BriefSky | NightStrip, *, prefix: str) -> str:
    """Write a picture; `prefix` begins its ids, and is its own on a page."""
    return render_to_string(TEMPLATES[type(picture)], {"picture": picture, "prefix": prefix})


def styled(drawing: str, *, look: str = "paper") -> str:
    """Write colours and faces of a look into a drawing, for whatever knows no style sheet."""
    head, _bracket, rest = drawing.partition(">")
    head = head.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    return f"{head}><style>{style(look)}</style>{rest}"


def as_png(drawing: str, *, width: int, look: str = "paper") -> bytes:
    """Paint a drawing so many pixels wide, on the ground of the look."""
    return resvg_py.svg_to_bytes(
        svg_string=styled(drawing, look=look),
        width=width,
        background=colours(look)["--page"],
        # Names of every script: what the shipped face lacks is drawn by a face of the system.
        skip_system_fonts=False,
        font_files=list(FONTS),
        font_family=FAMILY,
        sans_serif_family=FAMILY,
    )


def _numbers(name: str, wanted: Sequence[Wanted]) -> str:
    return ", ".join(str(one.number) for one in wanted if one.name == name)


def _whole_hour(at: datetime, zone: str) -> datetime:
    here = local(at, zone)
    return at - timedelta(minutes=here.minute, seconds=here.second, microseconds=here.microsecond)


def _minutes(row: Night, at: datetime) -> float:
    return (at - row.start) / timedelta(minutes=1)
