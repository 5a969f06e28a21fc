"""When a target stands over a landmark of a site, or at a direction: asked, told, taken away."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from trips.almanac.alignments import Found, alignment_record, find, hidden_words, why_words
from trips.almanac.local_sky import dark_enough
from trips.almanac.local_time import night_at
from trips.almanac.targets import names_to_type
from trips.almanac.windows import spot_place, spot_skyline
from trips.almanac.wording import SkyError, sentence
from trips.forms.alignments import ANY_HOUR, AlignmentForm, Question, read_question
from trips.models import Season, Site
from trips.services.alignments import JudgedAlignment, judge_alignments
from trips.services.spots import spots_of
from trips.views.alignment_rows import (
    MOST_ROWS,
    answer,
    during,
    how_counted,
    left_out_words,
    light_told,
    months,
    nights_asked,
    nights_in_row,
    rows_words,
    step_words,
    while_out_words,
)
from trips.views.downloads import csv_file
from trips.views.members import site_of

COLUMNS = (
    "night",
    "at",
    "from",
    "to",
    "altitude",
    "altitude_geometric",
    "azimuth",
    "sun_altitude",
    "moon_altitude",
    "moon_illuminated",
    "why_not",
)


@require_safe
@login_required
def alignments(request: HttpRequest, site_id: int) -> HttpResponse:
    site = site_of(request, site_id)
    form, question, found = _asked(request, site)
    context = {"site": site, "form": form, "names": names_to_type()}
    if question and found:
        context |= _told(request.GET, site, question, found)
        context["table"] = f"{reverse('alignments_csv', args=[site.pk])}?{request.GET.urlencode()}"
    return render(request, "trips/alignments.html", context)


@require_safe
@login_required
def alignments_csv(request: HttpRequest, site_id: int) -> HttpResponse:
    """Give every alignment; what cannot be read is told on the page."""
    site = site_of(request, site_id)
    _form, question, found = _asked(request, site)
    if question is None or found is None:
        page = reverse("alignments", args=[site.pk])
        return redirect(f"{page}?{request.GET.urlencode()}" if request.GET else page)
    names = [site.name, question.target.name, "alignments"]
    judged = judge_alignments(found.alignments, site, question.season)
    records = (
        alignment_record(one.alignment, site.zone) | {"why_not": one.why_not or ""}
        for one in judged
    )
    return csv_file(names, COLUMNS, ([record[name] for name in COLUMNS] for record in records))


def _asked(request: HttpRequest, site: Site) -> tuple[AlignmentForm, Question | None, Found | None]:
    """Read the address and find what it asks; a target that stands nowhere is a mistake too."""
    today = night_at(timezone.now(), site.zone)
    form, question = read_question(request.GET, site, spots_of(site), today=today)
    if question is None:
        return form, None, None
    try:
        found = find(
            question.target,
            question.aim,
            spot_place(site, question.spot),
            question.first,
            question.last,
            skyline=spot_skyline(question.spot),
            light=question.light,
            dark_level=question.season.dark_level
            if question.season
            else Season.DarkLevel.ASTRONOMICAL,
            enough=dark_enough(site),
        )
    except SkyError as error:
        form.add_error("target", sentence(error))
        return form, None, None
    return form, question, found


def _told(asked: QueryDict, site: Site, question: Question, found: Found) -> dict[str, Any]:
    told = {
        "question": question,
        "light": light_told(question),
        "step": step_words(question.landmark),
        "when": during(question),
    }
    if found.why:
        why = why_words(found.why, question.target, question.aim)
        return told | {"when": nights_asked(question), "why": why}
    judged = judge_alignments(found.alignments, site, question.season)
    shown = [one for one in judged if not (question.is_while_out and one.why_not)]
    left_out = [one for one in judged if question.is_while_out and one.why_not]
    told |= {
        "left_out": left_out_words(left_out),
        "any_hour": _address(asked, hours=ANY_HOUR),
        "hidden": hidden_words(found, question.aim) if found.hidden else "",
    }
    if not shown:
        return told
    return told | {
        "answer": answer(question, [one.alignment for one in shown], site.zone),
        "while_out": while_out_words(question, shown),
        "rows": rows_words(shown, nights_in_row(question)),
        "counted": how_counted(question, found),
        "months": months(shown, site, question),
        "has_azimuths": question.aim.altitude_degrees is not None,
        "count": len(shown),
        "most": MOST_ROWS,
        **_rest(asked, shown),
    }


def _rest(asked: QueryDict, shown: Sequence[JudgedAlignment]) -> dict[str, Any]:
    """Link what does not fit on a page."""
    if len(shown) <= MOST_ROWS:
        return {}
    onward = shown[MOST_ROWS].alignment.night
    return {"onward": onward, "onward_address": _address(asked, first=onward.isoformat())}


def _address(asked: QueryDict, **changed: str) -> str:
    address = asked.copy()
    for name, value in changed.items():
        address[name] = value
    return f"?{address.urlencode()}"
