"""What the page of a spot's frame asks, read from its address; what it does not say is usual."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.http import QueryDict

from trips.almanac.camera import Lens
from trips.almanac.frame import Aim, Shot
from trips.almanac.targets import Target
from trips.forms.frame_fields import FrameForm
from trips.models import Camera, Night, Site

USUAL: dict[str, str] = {
    "aim": "land",
    "focal": "24",
    "draws": "rectilinear",
    "sensor": "full-frame",
    "held": "landscape",
    "seconds": "15",
}


@dataclass(frozen=True, slots=True)
class Question:
    """What was asked, read. `at`, `azimuth` and `altitude` None: as suits the target."""

    row: Night
    target: Target | None
    aim: Aim
    shot: Shot
    at: datetime | None
    azimuth: float | None
    altitude: float | None


def read_question(
    asked: QueryDict, site: Site, cameras: Sequence[Camera], *,
    nights: tuple[date, date], night: date, target: str,
) -> tuple[FrameForm, Question | None]:  # fmt: skip
    """Read the address; what it leaves out is usual, on the `night` and at the `target` given.

    An azimuth alone is a question without a target.
    """
    filled = asked.copy()
    usual = USUAL | {"night": night.isoformat()}
    if "target" not in asked and not asked.get("azimuth", "").strip():
        usual["target"] = target
    for name, value in usual.items():
        if name not in asked:
            filled[name] = value
    form = FrameForm(site, cameras, nights, data=filled)
    return form, _question(form) if form.is_valid() else None


def _question(form: FrameForm) -> Question:
    said = form.cleaned_data
    assert form.row is not None  # noqa: S101 - clean_night has found it
    return Question(
        row=form.row,
        target=said["target"],
        aim=said["aim"],
        shot=Shot(Lens(said["focal"], None, said["draws"]), said["of"], said["seconds"]),
        at=said["at"],
        azimuth=said["azimuth"],
        altitude=said["altitude"],
    )
