"""Lit, then dark: the nights of a season for one face of a spot, told and taken away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import urlencode

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_safe

from trips.almanac.lit_then_dark import USUAL_LIGHT, face_record, is_seen_from
from trips.almanac.lit_then_dark_words import (
    height_words,
    lit_words,
    moon_words,
    night_words,
    side_words,
)
from trips.almanac.local_time import clock, night_at
from trips.almanac.wording import SkyError, sentence
from trips.forms.lit_asked import LitForm, Question, read_question
from trips.models import Landmark, Spot
from trips.services.lit_then_dark import (
    JudgedNight,
    LitAndDarkNights,
    best_first,
    lit_and_dark_nights,
)
from trips.templatetags.nights import evening, hours
from trips.templatetags.rooms import why_not_on
from trips.views.downloads import csv_file
from trips.views.members import spot_of

COLUMNS = (
    "night",
    "first",
    "lit_from",
    "lit_to",
    "dark_from",
    "dark_to",
    "moon_altitude",
    "moon_azimuth",
    "moon_illuminated",
    "angle",
    "from",
    "why_not",
)
HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class Row:
    """A night in words, on the clock of the site."""

    evening: date
    address: str
    order: str
    lit: str
    moon: str
    side: str
    dark: str
    hours: str
    against: str  # why it is not offered


@require_safe
@login_required
def lit_then_dark(request: HttpRequest, spot_id: int) -> HttpResponse:
    spot = spot_of(request, spot_id)
    faces, form, question, found = _asked(request, spot)
    context: dict[str, Any] = {"spot": spot, "site": spot.site, "form": form, "faces": faces}
    context["moon"] = moon_words(question.light if question else USUAL_LIGHT)
    if question and found:
        table = reverse("lit_then_dark_csv", args=[spot.pk])
        context |= _told(spot, question, found) | {
            "table": f"{table}?{request.GET.urlencode()}" if request.GET else table
        }
    return render(request, "trips/lit_then_dark.html", context)


@require_safe
@login_required
def lit_then_dark_csv(request: HttpRequest, spot_id: int) -> HttpResponse:
    """Give every night; what cannot be read is told on the page."""
    spot = spot_of(request, spot_id)
    _faces, _form, question, found = _asked(request, spot)
    if question is None or found is None:
        page = reverse("lit_then_dark", args=[spot.pk])
        return redirect(f"{page}?{request.GET.urlencode()}" if request.GET else page)
    records = (
        face_record(one.night, spot.site.zone) | {"why_not": one.why_not or ""}
        for one in _in_order(question, found)
    )
    names = [spot.site.name, question.landmark.name, "lit-then-dark"]
    return csv_file(names, COLUMNS, ([record[name] for name in COLUMNS] for record in records))


def _asked(
    request: HttpRequest, spot: Spot
) -> tuple[list[Landmark], LitForm | None, Question | None, LitAndDarkNights | None]:
    faces = [one for one in spot.landmarks.all() if one.face_degrees is not None]
    today = night_at(timezone.now(), spot.site.zone)
    form, question = read_question(request.GET, spot, faces, today=today)
    if form is None or question is None:
        return faces, form, None, None
    try:
        found = _found(spot, question)
    except SkyError as error:
        form.add_error("landmark", sentence(error))
        return faces, form, None, None
    return faces, form, question, found


def _found(spot: Spot, question: Question) -> LitAndDarkNights:
    return lit_and_dark_nights(
        spot, question.landmark, question.season, question.entry, light=question.light
    )


def _in_order(question: Question, found: LitAndDarkNights) -> Sequence[JudgedNight]:
    return found.nights if question.is_by_date else best_first(found.nights)


def _told(spot: Spot, question: Question, found: LitAndDarkNights) -> dict[str, Any]:
    shown = _in_order(question, found)
    return {
        "question": question,
        "answer": _answer(question, found),
        "best": _best(question, found, spot.site.zone),
        "looks_away": not is_seen_from(question.landmark),
        "rows": [_row(one, spot, question) for one in shown],
    }


def _answer(question: Question, found: LitAndDarkNights) -> str:
    """Give the sentence that the page opens with; where there is no night, what there is."""
    told = {
        "count": len(found.nights),
        "season": question.season.name,
        "face": question.landmark.name,
        "dark": _dark_of(question),
        "side": _("from the side") if question.light == USUAL_LIGHT else _("as asked"),
        "lit": found.lit_count,
        "dark_count": found.dark_count,
    }
    if found.nights:
        words = ngettext(
            "On one night of %(season)s the Moon lights the face of %(face)s %(side)s, and there "
            "is an hour or more of %(dark)s, while you are out.",
            "On %(count)d nights of %(season)s the Moon lights the face of %(face)s %(side)s, "
            "and there is an hour or more of %(dark)s, while you are out.",
            len(found.nights),
        )
        return words % told
    words = _(
        "No night of %(season)s has both while you are out: the Moon lights the face of %(face)s "
        "%(side)s in %(lit)d, and %(dark_count)d have an hour or more of %(dark)s."
    )
    return words % told


def _dark_of(question: Question) -> str:
    if question.entry is None:
        return _("moonless dark")
    return _("dark with %(target)s") % {"target": question.entry.name}


def _best(question: Question, found: LitAndDarkNights, zone: str) -> str:
    """Tell the best night that is offered in a line."""
    offered = [one for one in best_first(found.nights) if one.why_not is None]
    if not offered:
        return ""
    best = offered[0].night
    target = question.entry.name if question.entry else ""
    return _("Night of %(evening)s: %(words)s.") % {
        "evening": evening(best.night),
        "words": night_words(best.found, question.landmark.name, target, zone),
    }


def _row(one: JudgedNight, spot: Spot, question: Question) -> Row:
    found, zone = one.night.found, spot.site.zone
    return Row(
        evening=one.night.night,
        address=_night_page(one, spot, question),
        order=_("lit, then dark") if found.is_lit_first else _("dark, then lit"),
        lit=_span(found.lit, zone),
        moon=_("%(lit)s, %(height)s high")
        % {"lit": lit_words(found), "height": height_words(found)},
        side=side_words(found),
        dark=_span(found.dark, zone),
        hours=hours(one.dark_seconds / HOUR),
        against=why_not_on(one.night.night, one.why_not, spot.site) if one.why_not else "",
    )


def _night_page(one: JudgedNight, spot: Spot, question: Question) -> str:
    page = reverse("night_detail", args=[spot.site_id, one.night.night])
    lit = one.night.found.lit
    asked = {
        "spot": spot.pk,
        "season": question.season.pk,
        "at": clock(sum(lit) / 2, spot.site.zone),
    }
    return f"{page}?{urlencode(asked)}"


def _span(span: tuple[float, float], zone: str) -> str:
    return "–".join(clock(at, zone) for at in span)
