"""Which lens suits a target, in words."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from sky.camera.practice import TRACKED_PAST_MM
from trips.almanac.camera_parts import MOST_FRAMES
from trips.almanac.camera_words import degrees_words, lens_words, seconds_words
from trips.almanac.framing import LensForTarget, Wanted

# Common practice, no published source.
PRACTICE = {
    "milky-way": gettext_lazy(
        "14 to 24 mm at f/1.4 to f/2.8 are the work-horse for the Milky Way over land; 24 to 70 mm "
        "show its detail, and make panoramas."
    ),
    "milky-way:arch": gettext_lazy(
        "A circular fisheye takes the whole Milky Way in one frame; lenses of 24 to 70 mm make it "
        "a panorama."
    ),
    "shower": gettext_lazy(
        "Meteors come from the radiant but fly all over the sky, so it need not be in the frame: a "
        "circular fisheye waits for fireballs, 24 to 70 mm show single meteors."
    ),
    "deep-sky": gettext_lazy(
        "70 to 200 mm suit large nebulae and the nearest large galaxy, 200 to 500 mm galaxies, "
        "small nebulae and clusters."
    ),
    "planet": gettext_lazy(
        "To these lenses a planet is a point: what stands around it decides. Write that field."
    ),
    "star": gettext_lazy("A star is a point: what stands around it decides. Write that field."),
    "pair": gettext_lazy("Pairs here come closer than 5°: write a field that leaves them room."),
    "position": gettext_lazy("Nobody knows what you want there: write how wide the picture is."),
}

# Less to spare than this is none that anybody sees.
JUST = 1.05


def practice_words(key: str) -> str:
    """Say what lenses are usual for a target, or for its kind; "" where no habit is known."""
    known = (name for name in (key, key.partition(":")[0]) if name in PRACTICE)
    return str(PRACTICE[name]) if (name := next(known, "")) else ""


def answer_words(best: LensForTarget, wanted: Wanted) -> str:
    """Say which lens it is, and why, in one sentence. `best` has a framing."""
    said = {
        "lens": lens_words(best.lens),
        "seen": seen_words(best),
        "field": degrees_words(wanted.width),
        "margin": _margin(best),
        "frames": best.frames,
    }
    fit = best.framing.fit if best.framing else "frames"
    if fit == "frames" and _is_just(best):
        words = _("%(lens)s just frames it: it sees %(seen)s, and %(field)s are wanted.")
    elif fit == "frames":
        words = _(
            "%(lens)s frames it: it sees %(seen)s, %(margin)s times the %(field)s that are wanted."
        )
    elif fit == "too-loose":
        words = _(
            "%(lens)s comes nearest and sees %(margin)s times the %(field)s that are wanted: crop "
            "the picture, or bring a longer lens."
        )
    elif best.frames <= MOST_FRAMES:
        words = _(
            "No lens of the bag takes in %(field)s: with %(lens)s it is a panorama of %(frames)d "
            "frames."
        )
    else:
        words = _("No lens of the bag takes in %(field)s, or comes near it: bring a shorter one.")
    return words % said


def seen_words(one: LensForTarget) -> str:
    """Say what a lens sees: "15° × 10°"."""
    across, down = (degrees_words(side) for side in (one.fields.horizontal, one.fields.vertical))
    return _("a circle of %s") % across if one.fields.is_circle else f"{across} × {down}"


def fit_words(one: LensForTarget) -> str:
    """Say how a lens frames the field."""
    if one.framing is None:
        return ""
    if one.framing.fit == "too-tight":
        return _tight_words(one)
    margin = {"margin": _margin(one)}
    if one.framing.fit == "too-loose":
        return _("loose: %(margin)s times the field") % margin
    if _is_just(one):
        return _("just frames it")
    if one.framing.is_portrait:
        return _("frames it held upright, %(margin)s times the field") % margin
    return _("frames it, %(margin)s times the field") % margin


def _tight_words(one: LensForTarget) -> str:
    if one.frames > MOST_FRAMES:
        return _("too tight by far")
    words = ngettext(
        "too tight: a panorama of %(count)d frame",
        "too tight: a panorama of %(count)d frames",
        one.frames,
    )
    return words % {"count": one.frames}


def share_words(one: LensForTarget) -> str:
    """Say how much of the picture's width the target takes; "" where it has no size."""
    if one.share is None:
        return ""
    if one.share >= 1:
        return _("the target is %(times).1f frames wide") % {"times": one.share}
    percent = one.share * 100
    shown = f"{percent:.0f}" if percent >= 1 else _("less than 1")
    return _("the target takes %(percent)s %% of the width") % {"percent": shown}


def time_words(one: LensForTarget) -> str:
    return seconds_words(one.seconds)


def tracker_words(one: LensForTarget) -> str:
    return _("wants a tracker") if one.wants_tracker else _("a tripod will do")


def how_counted(*, moves: bool) -> Iterator[str]:
    """Say what the table takes for granted."""
    yield _("Frames are those of a camera held level; a zoom is its two ends.")
    if moves:
        yield _("Drift is counted on the sky’s equator, where it is fastest.")
    yield _("Past about %(mm).0f mm, as on full frame, a tracker is usual (common practice).") % {
        "mm": TRACKED_PAST_MM
    }


def picture_words(rows: list[LensForTarget], wanted: Wanted) -> str:
    """Say what the picture of the nested frames shows."""
    seen = "; ".join(
        _("%(lens)s sees %(seen)s") % {"lens": lens_words(one.lens), "seen": seen_words(one)}
        for one in rows
    )
    if wanted.size is None:
        return _("A field of %(field)s is wanted. %(seen)s.") % {
            "field": degrees_words(wanted.width),
            "seen": seen,
        }
    words = _("The target is %(long)s × %(short)s, a field of %(field)s is wanted. %(seen)s.")
    return words % {
        "long": degrees_words(wanted.size.long),
        "short": degrees_words(wanted.size.short),
        "field": degrees_words(wanted.width),
        "seen": seen,
    }


def _is_just(one: LensForTarget) -> bool:
    return one.framing is not None and 1 <= one.framing.margin < JUST


def _margin(one: LensForTarget) -> str:
    margin = one.framing.margin if one.framing else 1.0
    return f"{margin:.{1 if margin < 10 else 0}f}"
