"""What a camera takes in from a spot: one frame, and links to those of other moments."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from trips.almanac.frame import Pointing, Sketch, pointing_at, sketch_of
from trips.almanac.frame_times import Best, best_of, named_moments, steps, usual_moment
from trips.almanac.frame_words import answer, description, figures, legend, missing
from trips.almanac.local_time import clock, night_at
from trips.almanac.phones import phone_doubts, real_instead
from trips.almanac.spots import place_of_spot
from trips.almanac.targets import names_to_type, typed_as
from trips.charts.frame import frame_picture
from trips.forms.frame_asked import Question, read_question
from trips.forms.frame_fields import groups_of
from trips.forms.layout import mistakes
from trips.models import Camera, Spot
from trips.services.frames import computed_nights, usual_night, usual_target
from trips.views.members import spot_of
from trips.views.night_sky import Choice
from trips.views.page_address import PageAddress


@dataclass(frozen=True, slots=True)
class _Told:
    """A question, and what it comes to."""

    question: Question
    instant: datetime
    best: Best
    sketch: Sketch


@require_safe
@login_required
def spot_frame(request: HttpRequest, spot_id: int) -> HttpResponse:
    spot = spot_of(request, spot_id)
    site, nights = spot.site, computed_nights(spot.site)
    evening = usual_night(site, night_at(timezone.now(), site.zone))
    context: dict[str, Any] = {"spot": spot, "site": site}
    if nights is None or evening is None:
        return render(request, "trips/spot_frame.html", context)
    cameras = list(Camera.objects.for_member(request.user).current())
    form, question = read_question(
        request.GET, site, cameras,
        nights=nights, night=evening, target=lambda on: typed_as(usual_target(site, spot, on)),
    )  # fmt: skip
    if question:
        context |= _page(
            spot, question, {name: form.data[name] for name in form.data}, request.path
        )
    context |= {
        "groups": groups_of(form),
        "mistakes": mistakes(form),
        "names": names_to_type(),
    }
    return render(request, "trips/spot_frame.html", context)


def _page(spot: Spot, question: Question, asked: dict[str, Any], path: str) -> dict[str, Any]:
    told = _told(spot, question)
    zone, place, sketch = spot.site.zone, place_of_spot(spot), told.sketch
    at, lens, sensor = clock(told.instant, zone), question.shot.lens, question.shot.sensor
    address = PageAddress(path, asked | {"at": at})
    name = question.target.name if question.target else ""
    first = answer(sketch, place, at, name)
    picture = frame_picture(
        sketch,
        title=_("What the frame takes in at %(at)s") % {"at": at},
        description=description(sketch, first),
    )
    return {
        "answer": first,
        "why_not": told.best.why_not,
        "warnings": list(phone_doubts(lens, sensor)),
        "real_mm": (real_mm := real_instead(lens, sensor)),
        "with_real": address.with_(focal=real_mm),
        "missing": missing(sketch),
        "picture": picture,
        "legend": list(legend(sketch, picture.times)),
        "figures": list(figures(sketch, place)),
        "night": question.row.date,
        "at": at,
        "times": list(_times(told, zone, address)),
        "steps": list(_steps(told, zone, address)),
        "address": address.with_(),
        **_tripod(question, sketch.frame.pointing, address),
    }


def _told(spot: Spot, question: Question) -> _Told:
    target, row = question.target, question.row
    best = best_of(target, spot.site, spot, row) if target else Best(None)
    instant = question.at or usual_moment(row, best)
    sketch = sketch_of(
        row, spot.site, spot, instant,
        shot=question.shot,
        pointing=_pointing(spot, question, instant),
        wanted=[target] if target else [],
        landmarks=list(spot.landmarks.all()),
    )  # fmt: skip
    return _Told(question, instant, best, sketch)


def _pointing(spot: Spot, question: Question, instant: datetime) -> Pointing:
    """Give what was typed; what was not is where the target is, or level."""
    azimuth, altitude = question.azimuth, question.altitude
    if question.target is None:
        return Pointing(azimuth or 0.0, altitude or 0.0)
    found = pointing_at(
        question.target, question.aim, question.shot,
        site=spot.site, spot=spot, instant=instant,
    )  # fmt: skip
    return Pointing(
        found.azimuth_degrees if azimuth is None else azimuth,
        found.altitude_degrees if altitude is None else altitude,
    )


def _times(told: _Told, zone: str, address: PageAddress) -> Iterator[Choice]:
    """Link dusk, the best moment and dawn."""
    ends = named_moments(told.question.row, zone)
    if ends is None:
        return
    named = [(_("dusk"), ends[0]), (_("best"), told.best.instant), (_("dawn"), ends[1])]
    for words, instant in named:
        if instant is not None:
            at = clock(instant, zone)
            is_chosen = at == clock(told.instant, zone)
            yield Choice(f"{words} {at}", address.with_(at=at), is_chosen, at.replace(":", ""))


def _steps(told: _Told, zone: str, address: PageAddress) -> Iterator[Choice]:
    """Link the moments some minutes earlier and later."""
    for step in steps(told.question.row, zone, told.instant):
        words = f"{step.minutes:+d} min".replace("-", "−")
        key = f"{'before' if step.minutes < 0 else 'after'}-{abs(step.minutes)}"
        yield Choice(words, address.with_(at=clock(step.instant, zone)), is_chosen=False, key=key)


def _tripod(question: Question, pointing: Pointing, address: PageAddress) -> dict[str, str]:
    """Link the same frame with the camera left where it points, or turned to the target again."""
    if question.target is None:
        return {}
    if question.azimuth is not None and question.altitude is not None:
        return {"turn_again": address.with_(azimuth=None, altitude=None)}
    azimuth, altitude = pointing.azimuth_degrees % 360, pointing.altitude_degrees
    return {"leave_it": address.with_(azimuth=f"{azimuth:.1f}", altitude=f"{altitude:.1f}")}
