"""What the page of a spot's frame asks, read from its address; what it does not say is usual."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.http import QueryDict

from trips.almanac.camera import Lens
from trips.almanac.frame import Aim, Shot
from trips.almanac.targets import Target, typed_as
from trips.forms.frame_fields import USUAL, FrameForm
from trips.models import Camera, Night, Site


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
    nights: tuple[date, date], night: date, target: Callable[[date], str],
) -> tuple[FrameForm, Question | None]:  # fmt: skip
    """Read the address; what it leaves out is usual.

    Without a night it is `night`, without a target what `target` gives for the night that is asked.
    An azimuth alone is a question without a target.
    """
    filled = asked.copy()
    usual = USUAL | {"night": night.isoformat()}
    for name, value in usual.items():
        if name not in asked:
            filled[name] = value
    if "target" not in asked and not asked.get("azimuth", "").strip():
        filled["target"] = target(_night(str(filled["night"])) or night)
    filled["target"] = typed_as(filled.get("target", "").strip())  # an address may have its key
    form = FrameForm(site, cameras, nights, data=filled)
    return form, _question(form) if form.is_valid() else None


def _night(typed: str) -> date | None:
    try:
        return date.fromisoformat(typed)
    except ValueError:
        return None


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
