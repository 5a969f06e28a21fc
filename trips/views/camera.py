"""Camera and lens: what to set under a sky, for anybody who comes, signed in or not."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from trips.almanac.camera import answer
from trips.almanac.camera_told import told
from trips.almanac.phones import real_instead
from trips.forms.camera_asked import read_question
from trips.forms.camera_lens import groups_of
from trips.forms.layout import mistakes
from trips.models import Camera
from trips.views.page_address import PageAddress


@require_safe
def camera(request: HttpRequest) -> HttpResponse:
    """Answer what the address asks; no row of any club is read but a member's own cameras."""
    cameras = list(Camera.objects.for_member(request.user).current())
    form, question = read_question(request.GET, cameras)
    real_mm = real_instead(question.lens, question.sensor) if question else None
    context = {
        "form": form,
        "groups": groups_of(form),
        "swapped": ",".join(["#setting", "#evidence", *(f"#wrong-{name}" for name in form.fields)]),
        "told": told(question, answer(question)) if question else None,
        "real_mm": real_mm,
        "with_real": PageAddress(request.path, form.data).with_(focal=real_mm),
        "mistakes": mistakes(form),
    }
    return render(request, "trips/camera.html", context)
