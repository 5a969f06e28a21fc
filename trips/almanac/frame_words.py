"""What a frame takes in, in sentences: where the target stands, what trails, what is left out."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from django.utils.text import capfirst, get_text_list
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.camera.drift import STRICT_TRAIL_PX, TRAIL_PX, longest_exposure, trail_px
from sky.camera.field import fields
from sky.camera.frame import Beyond
from sky.camera.sketch import Sketch
from sky.dome import Standing, WantedStanding
from sky.place import Place
from trips.almanac.bearings import height, pointed
from trips.almanac.camera_words import degrees_words, hands, seconds_words
from trips.almanac.frame import DARK_FAINTEST, WHOLE_SKY_FAINTEST, declination_of

SIDES = {
    "left": gettext_lazy("%(degrees)s to the left of it"),
    "right": gettext_lazy("%(degrees)s to the right of it"),
    "above": gettext_lazy("%(degrees)s above it"),
    "below": gettext_lazy("%(degrees)s below it"),
    "behind": gettext_lazy("behind the camera"),
}
# Nearer to the middle than this share of the frame's reach is in the middle.
MIDDLE_SHARE = 0.03
# Higher above the land, nobody counts fists.
MOST_ABOVE_LAND_DEGREES = 45.0
MOST_NAMED = 8
# Above, a camera looks to no side.
STRAIGHT_UP_DEGREES = 89.0


@dataclass(frozen=True, slots=True)
class Figure:
    name: str
    value: str


def answer(sketch: Sketch, place: Place, clock: str, name: str) -> str:
    """Give the sentence that the page opens with; `name` of the target that is asked, if any."""
    words = _("%(stands)s; a %(time)s frame trails stars by %(px)s.")
    declination = declination_of(sketch.frame.pointing, place)
    lens, sensor = sketch.frame.lens, sketch.frame.sensor
    return words % {
        "stands": _stands(sketch, clock, name),
        "time": seconds_words(sketch.seconds),
        "px": pixels(trail_px(lens, sensor, declination, sketch.seconds)),
    }


def pixels(count: float) -> str:
    if count < 0.5:
        return _("less than a pixel")
    return _("%(count).0f px") % {"count": count}


def _stands(sketch: Sketch, clock: str, name: str) -> str:
    if not name:
        return _("At %(at)s the frame looks %(where)s") % {"at": clock, "where": _looks(sketch)}
    told = {"at": clock, "name": name}
    if not sketch.sky.wanted:
        return _("%(name)s does not happen in this night") % told
    standing = sketch.sky.wanted[0].standings[0]
    if not standing.is_up:
        return _("At %(at)s %(name)s is below the horizon") % told
    told["high"] = height(standing.altitude_degrees)
    beyond = sketch.frame.beyond(standing.altitude_degrees, standing.azimuth_degrees)
    if beyond:
        told["where"] = _beside(beyond)
        return _("At %(at)s %(name)s is not in the frame: it stands %(high)s up, %(where)s") % told
    told["over"] = _over_land(sketch, standing)
    told["where"] = _in_frame(sketch, standing)
    return _("At %(at)s %(name)s stands %(high)s up, %(over)s, %(where)s") % told


def _looks(sketch: Sketch) -> str:
    pointing = sketch.frame.pointing
    words = _("toward %(direction)s, its middle %(degrees)s above the level")
    if pointing.altitude_degrees > STRAIGHT_UP_DEGREES:
        words = _("straight up, its lower edge toward %(direction)s")
    if pointing.altitude_degrees < 0:
        words = _("toward %(direction)s, its middle %(degrees)s below the level")
    return words % {
        "direction": pointed(pointing.azimuth_degrees),
        "degrees": f"{abs(pointing.altitude_degrees):.0f}°",
    }


def _beside(beyond: Beyond) -> str:
    return str(SIDES[beyond.side]) % {"degrees": degrees_words(beyond.degrees)}


def _over_land(sketch: Sketch, standing: Standing) -> str:
    """Give "1 fist above the land"; what is high says nothing of it."""
    skyline = sketch.sky.skyline
    over = standing.altitude_degrees - float(skyline.at(np.array([standing.azimuth_degrees]))[0])
    if over <= 0:
        return _("behind the land")
    if over > MOST_ABOVE_LAND_DEGREES:
        return _("high above the land")
    words = _("%(hands)s above the land")
    if skyline.is_level:
        words = _("%(hands)s above a level horizon")
    return words % {"hands": hands(over)}


def _in_frame(sketch: Sketch, standing: Standing) -> str:
    """Give "4° left of the middle and 9° above it"."""
    frame = sketch.frame
    x, y = frame.on_sensor(standing.altitude_degrees, standing.azimuth_degrees).tolist()
    aside, over = (frame.lens.angle_degrees(abs(one)) for one in (x, y))
    least = MIDDLE_SHARE * frame.reach_degrees
    across = _("left of the middle") if x < 0 else _("right of the middle")
    up = _("above the middle") if y > 0 else _("below the middle")
    parts = [
        f"{degrees_words(angle)} {words}"
        for angle, words in ((aside, across), (over, up))
        if angle > least
    ]
    return get_text_list(parts, _("and")) if parts else _("in the middle")


def missing(sketch: Sketch) -> str:
    """Say what is up, clear of the land and not in the frame, and the land itself; "" where that
    is nothing."""
    sky, land = sketch.sky, _land_ahead(sketch)
    left_out = [
        _("%(name)s, %(where)s") % {"name": name, "where": _beside(beyond)}
        for name, standing in ((_("the land"), land), *_worth_naming(sketch))
        if (standing is land or sky.is_open(standing))
        and (beyond := sketch.frame.beyond(standing.altitude_degrees, standing.azimuth_degrees))
    ]
    return _("Not in the frame: %(names)s.") % {"names": "; ".join(left_out)} if left_out else ""


def _land_ahead(sketch: Sketch) -> Standing:
    """Give the land's edge in the direction in which the camera looks."""
    azimuth = sketch.frame.pointing.azimuth_degrees
    return Standing(float(sketch.sky.skyline.at(np.array([azimuth]))[0]), azimuth)


def _worth_naming(sketch: Sketch) -> Iterator[tuple[str, Standing]]:
    sky = sketch.sky
    yield from ((one.name, one.standings[0]) for one in sky.wanted[1:])
    if sky.has_band and not sky.is_wanted(sky.milky_way.core):
        yield _("the galactic core"), sky.milky_way.core
    if not sky.is_wanted(sky.moon):
        yield _("the Moon"), sky.moon


def description(sketch: Sketch, first: str) -> str:
    """Say what the picture shows to those who do not see it; `first` is the answer."""
    parts = [first]
    if held := list(_held(sketch)):
        parts.append(_("In the frame: %(names)s.") % {"names": ", ".join(held[:MOST_NAMED])})
    if more := missing(sketch):
        parts.append(more)
    return " ".join(parts)


def _held(sketch: Sketch) -> Iterator[str]:
    sky = sketch.sky
    bodies = [(_("the Moon"), sky.moon), *((_(one.name), one.standing) for one in sky.planets)]
    marks = ((one.name, Standing(one.top_degrees, one.azimuth_degrees))
             for one in sketch.landmarks)  # fmt: skip
    stars = ((one.name, one.standing) for one in sky.stars.named(2.0))
    for name, standing in (*bodies, *stars):
        if sky.is_open(standing) and _is_held(sketch, standing):
            yield name
    yield from (name for name, standing in marks if _is_held(sketch, standing))


def _is_held(sketch: Sketch, standing: Standing) -> bool:
    return bool(sketch.frame.holds(standing.altitude_degrees, standing.azimuth_degrees))


def legend(sketch: Sketch, times: int) -> Iterator[str]:
    """Say what the picture's lines are; `times` as long as they are the trails are drawn."""
    faintest = sketch.sky.faintest + DARK_FAINTEST - WHOLE_SKY_FAINTEST
    yield _("Stars to magnitude %(faintest).1f; dotted, lines of equal altitude.") % {
        "faintest": faintest
    }
    if len(sketch.trails_px) and sketch.trails_px.max() > 0:
        yield _trails(sketch, times)
    if any(_is_ringed(one) for one in sketch.sky.wanted):
        yield _("Ringed and dashed: the target, and its path of the night.")
    if sketch.frame.circle_mm:
        yield _("The circle is as far as a fisheye is taken to see: 90° from where it points.")


def _is_ringed(one: WantedStanding) -> bool:
    return any(standing.is_up for standing in one.standings)


def _trails(sketch: Sketch, times: int) -> str:
    told = {
        "time": seconds_words(sketch.seconds),
        "px": pixels(float(sketch.trails_px.max())),
        "times": times,
    }
    if times == 1:
        return _("Strokes: how stars move in %(time)s, at most %(px)s.") % told
    return _(
        "Strokes: how stars move in %(time)s, at most %(px)s; drawn %(times)d times as long."
    ) % told  # fmt: skip


def figures(sketch: Sketch, place: Place) -> Iterator[Figure]:
    """Give what the picture cannot say: field, direction, how long stars stay points."""
    lens, sensor = sketch.frame.lens, sketch.frame.sensor
    seen = fields(lens, sensor)
    words = _("%(across)s across, %(down)s down, %(diagonal)s from corner to corner")
    if seen.is_circle:
        words = _("a circle of %(diagonal)s")
    yield Figure(_("Field"), words % {
        "across": degrees_words(seen.horizontal), "down": degrees_words(seen.vertical),
        "diagonal": degrees_words(seen.diagonal),
    })  # fmt: skip
    yield Figure(_("Middle of the frame"), capfirst(_looks(sketch)))
    declination = declination_of(sketch.frame.pointing, place)
    limits = (
        longest_exposure(lens, sensor, declination, TRAIL_PX),
        longest_exposure(lens, sensor, declination, TRAIL_PX, "corner"),
        longest_exposure(lens, sensor, declination, STRICT_TRAIL_PX),
    )
    usual, corner, strict = (seconds_words(rounded(limit)) for limit in limits)
    words = _(
        "%(usual)s in the middle, %(corner)s where they are fastest (%(px)g px); "
        "%(strict)s to be strict (%(strict_px)g px)"
    )
    yield Figure(_("Stars stay points for"), words % {
        "usual": usual, "corner": corner, "strict": strict,
        "px": TRAIL_PX, "strict_px": STRICT_TRAIL_PX,
    })  # fmt: skip


def rounded(seconds: float) -> float:
    """Leave no more than two figures of a time that nobody sets more finely."""
    digits = 1 - math.floor(math.log10(seconds))
    return round(seconds, digits) if seconds < 100 else seconds
