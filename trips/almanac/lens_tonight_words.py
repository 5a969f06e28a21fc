"""What a lens can do tonight, in words: what to set, or in two numbers why it cannot."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.utils.text import get_text_list
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sky.camera.drift import trail_px
from sky.camera.exposure import Iso
from sky.camera.steps import ISO_STEPS, nearest_step
from trips.almanac.camera_words import (
    degrees_words,
    f_words,
    grouped,
    iso_words,
    seconds_words,
    stops_words,
)
from trips.almanac.framing import FASTEST_DECLINATION
from trips.almanac.lens_tonight import LensTonight, Rig, Shot, Take, standing_shot, tracked_shot
from trips.almanac.phones import phone_doubts
from trips.almanac.tonight import Tonight


@dataclass(frozen=True, slots=True)
class LensAnswer:
    """`settings` "" where the lens cannot; `head` then says what it wants instead."""

    head: str
    settings: str
    lines: tuple[str, ...]


def answer_words(one: LensTonight, night: Tonight) -> LensAnswer:
    """Say what a lens can do toward what counts most of what it frames, else overhead."""
    found = one.best or (one.takes[0] if one.takes else None)
    shot = found.shot if found else _overhead(one.rig, night)
    lines = (_seen(one), *_framed(one.takes), *_about(one.rig, found, shot),
             *phone_doubts(one.rig.lens, one.rig.sensor))  # fmt: skip
    if shot.iso is not None and not shot.is_possible:
        return LensAnswer(_cannot(one), "", (_why_not(shot, shot.iso, one.rig), *lines))
    return LensAnswer(_head(found, shot), _settings(one.rig, shot), lines)


def take_words(rig: Rig, one: Take) -> tuple[str, tuple[str, ...]]:
    """Give the settings toward one target and what they cost; "" with the reason if it cannot."""
    shot = one.shot
    if shot.iso is not None and not shot.is_possible:
        return "", (_why_not(shot, shot.iso, rig),)
    return _settings(rig, shot), tuple(_about(rig, one, shot))


def _overhead(rig: Rig, night: Tonight) -> Shot:
    """Give what to set where nothing that is wanted stands right."""
    standing = standing_shot(rig, None, night.overhead_mag)
    tracked = None if standing.is_possible else tracked_shot(rig, night.overhead_mag)
    return tracked or standing


def _head(found: Take | None, shot: Shot) -> str:
    """Say toward what, and on what, the settings are meant."""
    name = found.target.name if found else _("the sky overhead")
    if found and found.framing and found.framing.fit == "too-tight":
        name = _("a part of %(name)s") % {"name": name}
    words = _("On the tracker, toward %(name)s") if shot.is_tracked else _("Toward %(name)s")
    return words % {"name": name}


def _settings(rig: Rig, shot: Shot) -> str:
    told = [seconds_words(shot.seconds), f_words(rig.f_number)]
    return ", ".join([*told, iso_words(shot.iso.step)] if shot.iso else told)


def _cannot(one: LensTonight) -> str:
    return _("Not enough light that night") if one.rig.tracker else _("Only on a tracker")


def _why_not(shot: Shot, iso: Iso, rig: Rig) -> str:
    words = _("Stars stay points for %(seconds)s. That needs %(iso)s, more than your %(top)s.")
    return words % {
        "seconds": seconds_words(shot.seconds),
        "iso": iso_words(nearest_step(iso.exact, ISO_STEPS)),
        "top": grouped(rig.top_iso),
    }


def _seen(one: LensTonight) -> str:
    across, down = (degrees_words(side) for side in (one.fields.horizontal, one.fields.vertical))
    if one.fields.is_circle:
        return _("Sees a circle of %(across)s.") % {"across": across}
    return _("Sees %(across)s by %(down)s.") % {"across": across, "down": down}


def _framed(takes: Iterable[Take]) -> Iterator[str]:
    """Say which targets a lens frames, and which are too wide or too small for it."""
    sorted_by = {"frames": [], "too-tight": [], "too-loose": []}  # type: dict[str, list[str]]
    for take in takes:
        fit = take.framing.fit if take.framing else "frames"
        sorted_by[fit].append(take.target.name)
    framed, tight, loose = sorted_by.values()
    if framed and not tight and not loose:
        yield ngettext("Frames what is wanted.", "Frames all %(count)d targets.", len(framed)) % {
            "count": len(framed)
        }
    elif framed:
        yield _("Frames %(names)s.") % {"names": _list(framed)}
    if tight:
        yield _("Too narrow for %(names)s.") % {"names": _list(tight)}
    if loose:
        yield _("Small in the frame: %(names)s.") % {"names": _list(loose)}


def _about(rig: Rig, found: Take | None, shot: Shot) -> Iterator[str]:
    """Say what the settings cost: light that is missing, lines in the corners, no exposure."""
    if shot.iso is None:
        yield _("No rule says an exposure for that light: the time is when stars begin to trail.")
    elif shot.stops_short > 0 and shot.is_possible:
        words = _("That comes out %(stops)s darker than asked: average %(frames)d frames.")
        yield words % {
            "stops": stops_words(shot.stops_short),
            "frames": math.ceil(2**shot.stops_short),
        }
    if not shot.is_tracked and shot.is_possible:
        known = found.target.declination if found else None
        toward = FASTEST_DECLINATION if known is None else known
        words = _(
            "The sky turns meanwhile: a star becomes a line of %(centre).0f px in the middle of "
            "the picture, %(corner).0f px in a corner."
        )
        yield words % {
            "centre": trail_px(rig.lens, rig.sensor, toward, shot.seconds),
            "corner": trail_px(rig.lens, rig.sensor, toward, shot.seconds, "corner"),
        }
    if found and (words := tracker_words(rig, found)):
        yield words


def tracker_words(rig: Rig, one: Take) -> str:
    """Give what to set on the tracker where that is worth its weight; "" where it is not."""
    if one.tracked is None or not _gains(one.tracked, one.shot):
        return ""
    return _("On the tracker: %(settings)s.") % {"settings": _settings(rig, one.tracked)}


def _gains(tracked: Shot, standing: Shot) -> bool:
    """Tell whether a tracker is worth its weight: twice the light, or more."""
    return (
        not standing.is_tracked
        and tracked.iso is not None
        and tracked.is_possible
        and tracked.seconds >= 2 * standing.seconds
    )


def _list(names: list[str]) -> str:
    return str(get_text_list(names, _("and")))
