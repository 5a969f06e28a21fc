"""The targets of a night's brief: where, when, with which lens, what to set on it."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.bearings import LEAST_SURE_DEGREES, compass_point, whole_azimuth
from trips.almanac.camera_words import (
    degrees_words,
    f_words,
    grouped,
    lens_words,
    seconds_words,
)
from trips.almanac.fists import fists_to
from trips.almanac.lens_tonight import Rig, Take, UsualTake, usual_take
from trips.almanac.lens_tonight_words import take_words
from trips.almanac.local_time import clock
from trips.almanac.night_target_words import why_words
from trips.almanac.tonight import TargetTonight
from trips.planning.brief.facts import First, Target
from trips.services.briefs.sky import BriefSky, Placed

ALIKE_SECONDS = 60
# Common practice, no published source.
HABITS = (
    gettext_lazy("Raw, manual focus, self-timer of 2 s, no noise reduction while it exposes."),
    gettext_lazy(
        "In the camera’s graph of brightness, the histogram, the hump belongs clear of the left "
        "edge: if it touches, raise ISO."
    ),
)


def targets_of(sky: BriefSky) -> tuple[Target, ...]:
    """Give the chosen targets, with what a usual lens on full frame takes of each."""
    return tuple(_target(placed, sky) for placed in sky.placed)


def _target(placed: Placed, sky: BriefSky) -> Target:
    one = placed.one
    found = usual_take(one)
    settings, costs = take_words(found.rig, found.take)
    return Target(
        number=placed.number,
        name=one.name,
        start=round(placed.start),
        end=round(placed.end),
        best=round(one.at),
        window=window(placed.start, placed.end, sky.zone),
        direction=direction(one, sky),
        degrees=figures(one, sky),
        lens=lens_class(found.rig, found.take),
        settings=settings,
        how=(*_longer(placed, sky), *costs),
    )


def window(start: float, end: float, zone: str) -> str:
    return f"{clock(start, zone)}–{clock(end, zone)}"


def direction(one: TargetTonight, sky: BriefSky) -> str:
    """Give it in words; of an arch its top, and from where to where it stands."""
    words = fists_to(one.standing, sky.landmarks)
    if one.is_arch:
        foot = one.standing.azimuth_degrees
        words = _("from %(left)s to %(right)s; its top: %(top)s") % {
            "left": compass_point((foot - 90) % 360),
            "right": compass_point((foot + 90) % 360),
            "top": words,
        }
    return words[:1].upper() + words[1:]


def figures(one: TargetTonight, sky: BriefSky) -> str:
    """Give "At 01:00: 154° true, 153° compass, 16° up"; low down how far that is sure."""
    standing = one.standing
    said = [_("%(degrees)d° true") % {"degrees": whole_azimuth(standing.azimuth_degrees)}]
    shown = sky.needle.by_compass(standing.azimuth_degrees)
    if shown is not None:
        said.append(_("%(degrees)d° compass") % {"degrees": whole_azimuth(shown)})
    up = _("%(degrees)d° up")
    if standing.altitude_degrees < LEAST_SURE_DEGREES:
        up = _("%(degrees)d° up ± 0.2°")
    said.append(up % {"degrees": round(standing.altitude_degrees)})
    return _("At %(time)s: %(where)s") % {
        "time": clock(one.at, sky.zone),
        "where": ", ".join(said),
    }


def lens_class(rig: Rig, take: Take) -> str:
    """Say which lens it wants, for a camera of full frame."""
    named = _("%(lens)s on full frame") % {"lens": lens_words(rig.lens)}
    if take.target.field_degrees is None:
        return _("as wide as you want it: with %(lens)s") % {"lens": named}
    if take.frames:
        return named
    field = degrees_words(take.target.field_degrees)
    return _("a panorama: %(field)s are wanted, with %(lens)s") % {"field": field, "lens": named}


def _longer(placed: Placed, sky: BriefSky) -> Iterator[str]:
    """Say when it stands right beyond its own stretch."""
    spans = placed.stands_right
    own = [(placed.start, placed.end)]
    if len(spans) == 1 and all(
        abs(a - b) < ALIKE_SECONDS for a, b in zip(spans[0], own[0], strict=True)
    ):
        return
    times = ", ".join(window(start, end, sky.zone) for start, end in spans)
    yield _("If you miss that hour: it stands right %(times)s.") % {"times": times}


def first_frame(targets: tuple[Target, ...], sky: BriefSky) -> First | None:
    """Give what to try first, with a usual lens; None where no rule gives an exposure."""
    for placed, target in zip(sky.placed, targets, strict=True):
        usual = usual_take(placed.one)
        found = frame(_lens(usual.rig), usual, target)
        if found is not None:
            return found
    return None


def frame(lens: str, found: UsualTake, target: Target) -> First | None:
    """Give the settings of a take, each by itself, as they stand large."""
    shot = found.take.shot
    if shot.iso is None or not target.settings:
        return None
    begins = target.window.partition("–")[0]
    words = _("%(target)s from %(time)s, with %(lens)s")
    return First(
        title=words % {"target": target.name, "time": begins, "lens": lens},
        shutter=seconds_words(shot.seconds),
        aperture=f_words(found.rig.f_number),
        iso=grouped(shot.iso.step),
        how=tuple(map(str, HABITS)),
    )


def _lens(rig: Rig) -> str:
    return _("%(lens)s on full frame") % {"lens": lens_words(rig.lens)}


def not_tonight(sky: BriefSky) -> tuple[str, ...]:
    """Name what is wanted and not among the chosen, each with when or why not."""
    also = [
        _("%(name)s also stands right: %(times)s")
        % {
            "name": one.name,
            "times": ", ".join(window(start, end, sky.zone) for start, end in one.spans),
        }
        for one in sky.others
    ]
    hours = _("%(name)s: only at hours when you are not out")
    return (
        *also,
        *(hours % {"name": name} for name in sky.tonight.at_other_hours),
        *(f"{one.entry.name}: {why_words(one)}" for one in sky.tonight.absent),
    )
