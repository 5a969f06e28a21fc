"""Adding and editing a camera; of two editors, the second sees what the first stored."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trips.almanac.wording import SkyError, sentence
from trips.forms.club_camera import CAMERA_GROUPS, ClubCameraForm
from trips.forms.layout import laid_out, mistakes
from trips.forms.meanwhile import NOBODY, OPENED, is_behind, met, values_of, written
from trips.models import Camera, Organisation
from trips.services.cameras import save_camera
from trips.services.editing import EditedMeanwhileError
from trips.views.kept_typing import typing_kept
from trips.views.members import camera_of, member


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def camera_add(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    return _Editing(request, Camera(organisation=organisation), _("Add a camera")).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def camera_edit(request: HttpRequest, camera_id: int) -> HttpResponse:
    camera = camera_of(request, camera_id)
    heading = _("Edit %(camera)s") % {"camera": camera.name}
    try:
        return _Editing(request, camera, heading).answer()
    except EditedMeanwhileError:  # between reading and saving: look at it anew
        return camera_edit(request, camera_id)


class _Editing:
    """One showing of the form: as it is, refused, or saved."""

    def __init__(self, request: HttpRequest, camera: Camera, heading: str) -> None:
        self.request, self.camera, self.heading = request, camera, heading
        self.is_new = camera.pk is None
        self.typed: QueryDict | None = request.POST if request.method == "POST" else None
        self.meanwhile = NOBODY
        if self.typed is not None and not self.is_new and is_behind(self.typed, camera):
            self.typed, self.meanwhile = met(self._form(self.typed), self._form(None))
        self.form = self._form(self.typed)

    def _form(self, typed: QueryDict | None) -> ClubCameraForm:
        form = ClubCameraForm(typed, instance=self.camera)
        if not self.is_new:
            form.fields[OPENED].initial = written(values_of(form))
        return form

    def answer(self) -> HttpResponse:
        is_right = self.typed is not None and self.form.is_valid()
        if is_right and not self.meanwhile.is_clash and self._save():
            return redirect("camera_detail", self.camera.pk)
        return render(self.request, "trips/camera_form.html", self._context())

    def _save(self) -> bool:
        try:
            save_camera(self.camera)
        except SkyError as error:
            self.form.add_error(None, sentence(error))
            return False
        messages.success(self.request, _("%(camera)s is saved.") % {"camera": self.camera.name})
        if self.meanwhile.taken:
            messages.info(self.request, self.meanwhile.taken_over())
        return True

    def _context(self) -> dict[str, Any]:
        return {
            "form": self.form,
            "groups": laid_out(self.form, CAMERA_GROUPS, self.meanwhile.stored),
            "mistakes": [*self.meanwhile.told(self.form), *mistakes(self.form)],
            "meanwhile": self.meanwhile,
            "heading": self.heading,
            "camera": None if self.is_new else Camera.objects.get(pk=self.camera.pk),
            "organisation": self.camera.organisation,
        }
