"""What the page of camera and lens asks, read from its address; what it does not say is usual."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.http import QueryDict

from trips.almanac.camera import (
    DECLINATIONS,
    SKIES,
    Lens,
    Question,
    Sensor,
    Tracker,
    sensor_by_name,
    sensor_of,
    sensor_typed,
)
from trips.almanac.wording import SkyError, sentence
from trips.forms.camera_lens import REQUIRED, USUAL, CameraForm
from trips.models import Camera

USUAL_TOP_ISO = 12_800
TRACKER = "tracker"


def read_question(
    asked: QueryDict, cameras: Sequence[Camera]
) -> tuple[CameraForm, Question | None]:
    """Read the address; an empty one asks what is usual."""
    filled = asked.copy()
    for name, usual in USUAL.items():
        if name not in asked or (name not in REQUIRED and not str(asked[name]).strip()):
            filled[name] = usual
    form = CameraForm(cameras, data=filled)
    if not form.is_valid():
        return form, None
    try:
        return form, _question(form)
    except SkyError as error:
        form.add_error("pixels" if form.cleaned_data["pixels"] else "megapixels", sentence(error))
        return form, None


def _question(form: CameraForm) -> Question:
    said = form.cleaned_data
    sensor, top_iso = _sensor(form)
    return Question(
        lens=Lens(said["focal"], said["widest"], said["draws"]),
        sensor=sensor,
        f_number=said["stop"] or said["widest"],
        top_iso=round(said["iso"] or top_iso),
        dark_mag=SKIES[said["sky"]] if said["magnitude"] is None else said["magnitude"],
        moon=said["moon"],
        declination=_declination(said),
        trail_px=float(said["trail"]),
        tracker=Tracker(said["error"], said["polar"]) if said["on"] == TRACKER else None,
        has_snow=said["snow"],
        faint_mag=said["faint"],
        wide_degrees=said["wide"],
        high_degrees=said["high"],
    )


def _sensor(form: CameraForm) -> tuple[Sensor, int]:
    """Give the sensor of the club's camera, else the typed, else the named; and a highest ISO."""
    said, camera = form.cleaned_data, form.chosen_camera
    if camera:
        return sensor_of(camera), camera.top_iso
    if said["width"]:
        return sensor_typed(said["width"], said["height"], round(said["pixels"])), USUAL_TOP_ISO
    return sensor_by_name(said["sensor"], said["megapixels"]), USUAL_TOP_ISO


def _declination(said: dict[str, Any]) -> float:
    typed: float | None = said["declination"]
    return DECLINATIONS[said["toward"]] if typed is None else typed
