"""Deeds on the club's cameras: saved, calibrated as meters of darkness, archived."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction

from trips.almanac.metering import MeteredFrame, zero_point_of
from trips.almanac.sensors import check_sensor
from trips.models import Camera, Organisation
from trips.services.editing import save_edited


@transaction.atomic
def save_camera(camera: Camera) -> None:
    """Save the camera. Errors: `SkyError` for no sensor that can be, `EditedMeanwhileError`."""
    check_sensor(camera)
    if camera.pk is None:
        camera.save()
    else:
        save_edited(camera)


@transaction.atomic
def calibrate(camera: Camera, frame: MeteredFrame, *, known_mag: float, on: date, how: str) -> None:
    """Find the camera's zero point from a frame of a sky whose brightness is known.

    Readings from earlier frames stay as they were made. Errors: `SkyError` for no sky of a night,
    `EditedMeanwhileError`.
    """
    camera.zero_point = round(zero_point_of(frame, known_mag=known_mag), 4)
    camera.calibrated_on, camera.calibrated_how = on, how
    save_edited(camera)


@transaction.atomic
def archive_camera(camera: Camera, *, now: datetime) -> None:
    """Take the camera out of the lists; readings made with it stay."""
    camera.archived_at = now
    save_edited(camera)


def meters_of(organisation: Organisation) -> list[Camera]:
    """Give the cameras that darkness can be read with."""
    cameras = Camera.objects.current().filter(organisation=organisation)
    return list(cameras.exclude(zero_point=None))
