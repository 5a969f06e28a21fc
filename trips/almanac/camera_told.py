"""What the page of camera and lens says first: what to set, and what to look out for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from sky.camera.lens import real_focal_mm
from sky.camera.practice import TRACKED_PAST_MM, equivalent_mm, wants_tracker
from sky.camera.steps import ISO_STEPS, nearest_step
from trips.almanac.camera import Answer, Question
from trips.almanac.camera_parts import Part, parts
from trips.almanac.camera_words import (
    f_words,
    iso_words,
    lens_words,
    seconds_words,
    size_words,
    stops_words,
    toward_words,
)

# Sensors narrower than this are those of phones, whose lenses are shorter than that; mm.
PHONE_SENSOR_BELOW_MM, LONGEST_OF_PHONES_MM = 12.0, 10.0
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
        warnings=(*_of_phones(asked), *_of_light(found), *_of_support(asked)),
        parts=parts(asked, found),
    )


def _lead(asked: Question, found: Answer) -> str:
    words = _(
        "%(lens)s on %(size)s mm, toward %(toward)s, under a sky of %(sky).1f mag/arcsec²: "
        "%(trail)s"
    )
    return words % {
        "lens": lens_words(asked.lens),
        "size": size_words(asked.sensor),
        "toward": toward_words(asked.declination),
        "sky": found.sky_mag,
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
        "in %(seconds)s a star draws a line of %(centre)s pixels in the middle of the picture, "
        "and of %(corner)s where it is fastest."
    )
    return words % said


def _of_phones(asked: Question) -> Iterator[str]:
    """Phones have two focal lengths, and people know the wrong one."""
    lens, sensor = asked.lens, asked.sensor
    said = {"focal": f"{lens.focal_mm:g}", "size": size_words(sensor)}
    is_phone = sensor.width_mm < PHONE_SENSOR_BELOW_MM
    if is_phone and lens.focal_mm > LONGEST_OF_PHONES_MM:
        words = _(
            "Phones print what their lens would be on full frame. If yours says %(focal)s mm, its "
            "real focal length is %(real).1f mm: write that."
        )
        yield words % {**said, "real": real_focal_mm(lens.focal_mm, sensor)}
    elif lens.is_phone_like:
        words = _(
            "%(focal)s mm is a phone’s real focal length; phones print the equivalent, which on "
            "%(size)s mm is %(equivalent).0f mm."
        )
        yield words % {**said, "equivalent": equivalent_mm(lens, sensor)}
        if not is_phone:
            yield _("No phone has a sensor of %(size)s mm: choose the phone’s.") % said


def _of_light(found: Answer) -> Iterator[str]:
    iso = found.exposure.iso
    if iso.is_at_end and iso.stops_off < 0:
        words = _(
            "That sky wants %(wanted)s. At %(top)s, the highest that you use, the frame comes out "
            "%(stops)s darker: open the lens further, put the camera on a tracker, or take "
            "%(frames)d frames and average them."
        )
        yield words % {
            "wanted": iso_words(nearest_step(iso.exact, ISO_STEPS)),
            "top": iso_words(iso.step),
            "stops": stops_words(iso.stops_off),
            "frames": min(round(iso.exact / iso.step + 0.5), MOST_FRAMES_SAID),
        }
    if found.limited_by == "light":
        words = _(
            "The sky is so bright that a longer frame is washed out even at ISO 100: stars alone "
            "would allow %(limit)s."
        )
        yield words % {"limit": seconds_words(found.limit_seconds)}


def _of_support(asked: Question) -> Iterator[str]:
    if asked.tracker is None and wants_tracker(asked.lens, asked.sensor):
        words = _(
            "Past about %(mm).0f mm, as on full frame, a tracker is worth its weight (common "
            "practice)."
        )
        yield words % {"mm": TRACKED_PAST_MM}
