"""Cameras of the club as meters of darkness: what a frame says, and what to look at again."""

from __future__ import annotations

from django.utils.translation import gettext as _

from sky.camera.metering import (
    CUT_OFF_LEVEL,
    FAINT_LEVEL,
    MeteredFrame,
    is_unusual,
    sky_brightness,
    zero_point_of,
)
from sky.errors import SkyError
from trips.models import Camera

__all__ = ["MeteredFrame", "calibration_doubts", "frame_doubts", "metered", "zero_point_of"]

DECIMALS = 2  # a hundredth of a magnitude is finer than any frame is good for


def metered(camera: Camera, frame: MeteredFrame) -> float:
    """Give mag/arcsec² from a frame of a camera.

    Errors: `camera_not_calibrated`, those of `sky_brightness`.
    """
    if camera.zero_point is None:
        raise SkyError("camera_not_calibrated", camera=camera.name)
    return round(sky_brightness(frame, zero_point=camera.zero_point), DECIMALS)


def frame_doubts(frame: MeteredFrame) -> list[str]:
    """Give a sentence where a frame's level is too near to one of its ends to be trusted."""
    words = ""
    if frame.level > CUT_OFF_LEVEL:
        words = _(
            "A level of %(level)g is near full scale: brighter parts are cut off. Expose less."
        )
    elif frame.level < FAINT_LEVEL:
        words = _(
            "A level of %(level)g is hardly above black: what was taken off as the black level "
            "decides. Expose longer."
        )
    return [words % {"level": frame.level}] if words else []


def calibration_doubts(zero_point: float) -> list[str]:
    """Give a sentence where hardly any camera has such a zero point."""
    if not is_unusual(zero_point):
        return []
    words = _(
        "Hardly any camera has a zero point of %(zero).2f; most lie between 6 and 9. Was the level "
        "read on linear raw data, with the black level off, and not on a processed picture?"
    )
    return [words % {"zero": zero_point}]
