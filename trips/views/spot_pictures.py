"""The skyline of a spot as a picture, with what is asked for over it, and the same in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.utils.text import capfirst
from django.utils.translation import gettext as _

from trips.almanac.bearings import POINTS, bearing, pointed
from trips.almanac.local_time import clock
from trips.almanac.passages import Passage, Stand, passages
from trips.almanac.skyline_words import degrees, skyline_words
from trips.almanac.skylines import Skyline, skyline_of
from trips.almanac.spots import skyline_of_spot
from trips.almanac.tracks import Track
from trips.charts.skyline import Path, Seen, SkylinePicture, skyline_picture
from trips.models import Landmark, Spot

# Where a spot is drawn on, there is room for a wall of rock.
DRAWING_TOP = 60.0


@dataclass(frozen=True, slots=True)
class ShownTrack:
    track: Track
    is_asked: bool


@dataclass(frozen=True, slots=True)
class TrackLine:
    """A passage of a target in words: what a table says of the picture."""

    name: str
    is_asked: bool
    clears: str
    highest: str
    hides: str


@dataclass(frozen=True, slots=True)
class SpotLine:
    spot: Spot
    skyline: str


def spot_picture(
    spot: Spot, landmarks: Sequence[Landmark], shown: Sequence[ShownTrack], when: str
) -> SkylinePicture:
    """Draw the spot's skyline with tracks over it; `when` says of which day they are."""
    skyline = skyline_of_spot(spot)
    return _picture(
        spot, skyline, landmarks, shown, least_top=30.0,
        description=" ".join(_description(skyline, landmarks, shown, spot, when)),
    )  # fmt: skip


def spot_lines(spots: Iterable[Spot]) -> list[SpotLine]:
    """Give the spots of a site with their skylines in words."""
    return [SpotLine(spot, capfirst(skyline_words(skyline_of_spot(spot)))) for spot in spots]


def drawing_board(spot: Spot, points: Sequence[Sequence[float]]) -> SkylinePicture:
    """Draw the skyline as it is typed, with room above it to draw on."""
    skyline = skyline_of([(azimuth, altitude) for azimuth, altitude in points])
    landmarks = list(spot.landmarks.all()) if spot.pk else []
    said = capfirst(skyline_words(skyline)) + "."
    return _picture(spot, skyline, landmarks, (), least_top=DRAWING_TOP, description=said)


def track_lines(spot: Spot, shown: Iterable[ShownTrack]) -> list[TrackLine]:
    """Give a line for each stretch in the clear; one that says so for what has none."""
    skyline = skyline_of_spot(spot)
    lines = []
    for one in shown:
        found: list[Passage | None] = [*passages(one.track, skyline)]
        lines += [_line(one, passage, spot.site.zone) for passage in found or [None]]
    return lines


def _picture(
    spot: Spot,
    skyline: Skyline,
    landmarks: Sequence[Landmark],
    shown: Sequence[ShownTrack],
    *,
    least_top: float,
    description: str,
) -> SkylinePicture:
    return skyline_picture(
        skyline,
        landmarks=[
            Seen(one.name, one.azimuth_degrees, one.top_degrees, one.width_degrees or 0.0)
            for one in landmarks
        ],
        paths=[
            Path(one.track.name, one.track.points,
                 [(azimuth, altitude, at[:2]) for azimuth, altitude, at in one.track.hours],
                 is_asked=one.is_asked)
            for one in shown
        ],
        compass=[str(point) for point in POINTS[::2]],
        south=spot.latitude < 0,
        least_top=least_top,
        title=_("The skyline of %(spot)s") % {"spot": spot.name} if spot.name else _("The skyline"),
        description=description,
        note=_("level horizon: nobody has measured it"),
    )  # fmt: skip


def _description(
    skyline: Skyline,
    landmarks: Sequence[Landmark],
    shown: Sequence[ShownTrack],
    spot: Spot,
    when: str,
) -> Iterable[str]:
    """Say what the picture says."""
    yield f"{capfirst(skyline_words(skyline))}."
    for one in landmarks:
        yield _("%(name)s toward %(bearing)s, %(top)s high.") % {
            "name": one.name, "bearing": pointed(one.azimuth_degrees),
            "top": degrees(one.top_degrees),
        }  # fmt: skip
    if shown and when:
        yield f"{when}:"
    for line in track_lines(spot, shown):
        yield _sentence(line)


def _sentence(line: TrackLine) -> str:
    if not line.clears:
        return f"{line.name}: {line.highest}."
    words = _("%(name)s: comes clear: %(clears)s; highest: %(highest)s; goes behind: %(hides)s.")
    return words % {
        "name": line.name, "clears": line.clears, "highest": line.highest, "hides": line.hides,
    }  # fmt: skip


def _line(one: ShownTrack, passage: Passage | None, zone: str) -> TrackLine:
    name, is_round = one.track.name, one.track.is_round
    if passage is None:
        words = _("not clear of the land") if one.track.points else _("no night: the Sun is up")
        return TrackLine(name, one.is_asked, "", words, "")
    zone = "" if is_round else zone
    first = _("never behind it") if is_round else _("clear at sunset")
    last = first if is_round else _("clear at sunrise")
    return TrackLine(
        name,
        one.is_asked,
        _where(passage.clears, zone) if passage.clears else first,
        f"{degrees(passage.highest.altitude)}, {_where(passage.highest, zone)}",
        _where(passage.hides, zone) if passage.hides else last,
    )


def _where(stand: Stand, zone: str) -> str:
    """Give "23:16, west, 272°"; without a clock for the round of a day."""
    toward = bearing(stand.azimuth)
    return f"{clock(stand.at, zone)}, {toward}" if zone else toward
