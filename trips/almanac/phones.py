"""What is said of phones: their lenses have two focal lengths, and people know the wrong one."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.translation import gettext as _

from sky.camera.lens import Lens, real_focal_mm
from sky.camera.practice import PHONE_LENS_UP_TO_MM, equivalent_mm, is_of_phone
from sky.camera.sensor import Sensor
from trips.almanac.camera_words import size_words


def phone_doubts(lens: Lens, sensor: Sensor) -> Iterator[str]:
    """Say which focal length is meant, and that a phone's lens goes with a phone's sensor."""
    said = {"focal": f"{lens.focal_mm:g}", "size": size_words(sensor)}
    if real := real_instead(lens, sensor):
        words = _(
            "Phones print what their lens would be on full frame. If yours says %(focal)s mm, its "
            "real focal length is %(real).1f mm: write that."
        )
        yield words % {**said, "real": real}
    elif is_of_phone(sensor) and lens.is_phone_like:
        words = _(
            "%(focal)s mm is a phone’s real focal length; phones print the equivalent, which on "
            "%(size)s mm is %(equivalent).0f mm."
        )
        yield words % {**said, "equivalent": equivalent_mm(lens, sensor)}
    elif lens.is_phone_like:
        words = _(
            "Only phones have a lens of %(focal)s mm, and none has a sensor of %(size)s mm: choose "
            "the phone’s, or look at the number again."
        )
        yield words % said


def real_instead(lens: Lens, sensor: Sensor) -> float | None:
    """Give the real focal length, in mm, where a phone's equivalent seems to have been written."""
    is_meant = is_of_phone(sensor) and lens.focal_mm > PHONE_LENS_UP_TO_MM
    return round(real_focal_mm(lens.focal_mm, sensor), 1) if is_meant else None
