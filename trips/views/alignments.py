"""When a target stands over a landmark of a site, or at a direction: asked, told, taken away."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from trips.almanac.alignments import Found, alignment_record, find, why_words
from trips.almanac.local_time import night_at
from trips.almanac.targets import light_words, names_to_type
from trips.almanac.windows import spot_place
from trips.almanac.wording import SkyError, sentence
from trips.forms.alignments import AlignmentForm, Question, read_question
from trips.models import Site
from trips.services.spots import spots_of
from trips.views.alignment_rows import MOST_ROWS, answer, during, how_counted, months, step_words
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
)


@require_safe
@login_required
def alignments(request: HttpRequest, site_id: int) -> HttpResponse:
    site = site_of(request, site_id)
    form, question, found = _asked(request, site)
    context = {"site": site, "form": form, "names": names_to_type()}
    if question and found:
        context |= _told(site, question, found)
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
    records = (alignment_record(one, site.zone) for one in found.alignments)
    names = [site.name, question.target.name, "alignments"]
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
            light=question.light,
        )
    except SkyError as error:
        form.add_error("target", sentence(error))
        return form, None, None
    return form, question, found


def _told(site: Site, question: Question, found: Found) -> dict[str, Any]:
    told = {
        "question": question,
        "light": light_words(question.light or question.target.light),
        "step": step_words(question.landmark),
        "when": during(question),
    }
    if found.why:
        return told | {"why": why_words(found.why, question.target, question.aim)}
    return told | {
        "answer": answer(question, found.alignments, site.zone),
        "counted": how_counted(question.aim),
        "months": months(found.alignments, site),
        "count": len(found.alignments),
        "most": MOST_ROWS,
        "is_cut": len(found.alignments) > MOST_ROWS,
    }
