"""Cameras of the club: listed, shown, calibrated as meters of darkness, archived."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trips.almanac.metering import calibration_doubts, frame_doubts
from trips.almanac.wording import SkyError
from trips.forms.club_camera import FRAME_GROUPS, CalibrationForm
from trips.forms.layout import laid_out, mistakes
from trips.models import Camera
from trips.services.cameras import archive_camera, calibrate
from trips.services.editing import EditedMeanwhileError
from trips.views.archiving import archiving
from trips.views.kept_typing import typing_kept
from trips.views.members import (
    by_organisation,
    camera_of,
    coordinated,
    member,
)
from trips.views.versions import seen_version


@require_safe
@login_required
def camera_list(request: HttpRequest) -> HttpResponse:
    mine = Camera.objects.for_member(member(request))
    cameras = list(mine.current().select_related("organisation"))
    context = {
        "groups": by_organisation(request, cameras),
        "archived": mine.exclude(archived_at=None),
        "coordinated": coordinated(request, {one.organisation for one in cameras}),
    }
    return render(request, "trips/camera_list.html", context)


@require_safe
@login_required
def camera_detail(request: HttpRequest, camera_id: int) -> HttpResponse:
    camera = camera_of(request, camera_id)
    context = {
        "camera": camera,
        "pixel_um": camera.sensor_width_mm * 1000 / camera.pixels_wide,
        "readings": camera.darkness_readings.count(),
        "may_archive": coordinated(request, [camera.organisation]),
    }
    return render(request, "trips/camera_detail.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def camera_calibrate(request: HttpRequest, camera_id: int) -> HttpResponse:
    camera = camera_of(request, camera_id)
    typed = request.POST if request.method == "POST" else None
    form = CalibrationForm(typed, now=timezone.now())
    if form.is_valid() and _calibrated(request, camera, form):
        return redirect("camera_detail", camera.pk)
    context = {
        "camera": camera,
        "form": form,
        "groups": laid_out(form, FRAME_GROUPS),
        "mistakes": mistakes(form),
    }
    return render(request, "trips/camera_calibrate.html", context)


def _calibrated(request: HttpRequest, camera: Camera, form: CalibrationForm) -> bool:
    frame, asked = form.frame, form.cleaned_data
    if frame is None:
        return False
    camera.version = seen_version(request, camera)
    try:
        calibrate(camera, frame, known_mag=asked["known_mag"], on=asked["on"], how=asked["how"])
    except SkyError as error:
        form.refuse(error)
        return False
    except EditedMeanwhileError as error:
        form.add_error(None, str(error))
        camera.refresh_from_db()
        return False
    words = _("%(camera)s is calibrated: zero point %(zero).2f.")
    messages.success(request, words % {"camera": camera.name, "zero": camera.zero_point})
    for doubt in (*frame_doubts(frame), *calibration_doubts(camera.zero_point or 0.0)):
        messages.warning(request, doubt)
    return True


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def camera_archive(request: HttpRequest, camera_id: int) -> HttpResponse:
    camera = camera_of(request, camera_id)
    return archiving(
        request, camera, lambda: archive_camera(camera, now=timezone.now()),
        organisation=camera.organisation,
        template="trips/camera_archive.html", then=reverse("camera_list"),
    )  # fmt: skip
