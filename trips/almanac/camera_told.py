"""What the page of camera and lens says first: what to set, and what to look out for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.text import get_text_list
from django.utils.translation import gettext as _

from sky.camera.practice import TRACKED_PAST_MM, wants_tracker
from sky.camera.steps import ISO_STEPS, nearest_step
from trips.almanac.camera import Answer, Question
from trips.almanac.camera_parts import Part, parts
from trips.almanac.camera_words import (
    f_words,
    iso_words,
    lens_words,
    named_or_size,
    seconds_words,
    sky_words,
    stops_words,
    toward_words,
)
from trips.almanac.phones import phone_doubts

MOST_FRAMES_SAID = 999


@dataclass(frozen=True, slots=True)
class Told:
    """What to set, a sentence about it, what to look out for, and what it rests on."""

    seconds: str
    f_number: str
    iso: str
    lead: str
    warnings: tuple[str, ...]
    parts: tuple[Part, ...]


def told(asked: Question, found: Answer) -> Told:
    return Told(
        seconds=seconds_words(found.exposure.seconds),
        f_number=f_words(asked.f_number),
        iso=iso_words(found.exposure.iso.step),
        lead=_lead(asked, found),
        warnings=(
            *phone_doubts(asked.lens, asked.sensor),
            *_of_light(asked, found),
            *_of_support(asked),
        ),
        parts=parts(asked, found),
    )


def _lead(asked: Question, found: Answer) -> str:
    words = _("%(lens)s (%(sensor)s) toward %(toward)s, %(sky)s: %(trail)s")
    return words % {
        "lens": lens_words(asked.lens),
        "sensor": named_or_size(asked.sensor),
        "toward": toward_words(asked.declination),
        "sky": sky_words(asked.dark_mag, asked.moon),
        "trail": _trail(asked, found),
    }


def _trail(asked: Question, found: Answer) -> str:
    said = {
        "seconds": seconds_words(found.exposure.seconds),
        "centre": f"{found.trail_px:.1f}",
        "corner": f"{found.exposure.trail_corner_px:.1f}",
    }
    if asked.tracker:
        return _("the tracker follows, and in %(seconds)s strays by %(centre)s pixels.") % said
    words = _(
        "in %(seconds)s a star moves by %(centre)s pixels in the middle of the picture, by "
        "%(corner)s where it is fastest."
    )
    return words % said


def _of_light(asked: Question, found: Answer) -> Iterator[str]:
    iso = found.exposure.iso
    if iso.is_at_end and iso.stops_off < 0:
        words = _(
            "That sky wants %(wanted)s. At %(top)s, the highest that you use, the frame comes out "
            "%(stops)s darker: %(ways)s."
        )
        yield words % {
            "wanted": iso_words(nearest_step(iso.exact, ISO_STEPS)),
            "top": iso_words(iso.step),
            "stops": stops_words(iso.stops_off),
            "ways": get_text_list(list(_ways_to_light(asked, found)), _("or")),
        }
    if found.limited_by == "light":
        words = _(
            "The sky is so bright that a longer frame is washed out even at ISO 100: stars alone "
            "would allow %(limit)s."
        )
        yield words % {"limit": seconds_words(found.limit_seconds)}


def _ways_to_light(asked: Question, found: Answer) -> Iterator[str]:
    iso, widest = found.exposure.iso, asked.lens.widest_f_number
    if widest is None or asked.f_number > widest:
        yield _("open the lens further")
    if asked.tracker is None:
        yield _("put the camera on a tracker")
    frames = min(round(iso.exact / iso.step + 0.5), MOST_FRAMES_SAID)
    yield _("take %(frames)d frames and average them") % {"frames": frames}


def _of_support(asked: Question) -> Iterator[str]:
    if asked.tracker is None and wants_tracker(asked.lens, asked.sensor):
        words = _(
            "Past about %(mm).0f mm, as on full frame, a tracker is worth its weight (common "
            "practice)."
        )
        yield words % {"mm": TRACKED_PAST_MM}
