"""A night's brief on paper for the members of its club, before anybody has a link to it."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from trips.almanac.wording import SkyError, sentence
from trips.services.briefs.as_pdf import PAPERS, as_pdf, paper_named
from trips.services.briefs.without_reader import as_drafted, as_published
from trips.services.refusals import RefusedError
from trips.views.brief_hand import night_in_hand


@require_safe
@login_required
def trip_night_brief_pdf(request: HttpRequest, night_id: int) -> HttpResponse:
    """Give the version that people read, or else the draft, which says that it is one."""
    night = night_in_hand(request, night_id)
    paper = paper_named(request.GET.get("paper", "a4"))
    if paper is None:
        words = _("paper: there is no such size; it can be %(known)s.")
        return _sentence(words % {"known": ", ".join(PAPERS)}, status=400)
    try:
        reading = as_published(night) or as_drafted(night, now=timezone.now())
        return HttpResponse(as_pdf(reading, paper=paper), content_type="application/pdf")
    except RefusedError as error:
        return _sentence(error.sentence, status=503)
    except SkyError as error:
        return _sentence(sentence(error), status=503)


def _sentence(words: str, *, status: int) -> HttpResponse:
    return HttpResponse(words, status=status, content_type="text/plain; charset=utf-8")
