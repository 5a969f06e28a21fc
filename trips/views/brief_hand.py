"""The brief of a night in its instructor's hand: as it would be read, written into, published."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from trips.almanac.wording import SkyError, sentence
from trips.models import Brief, BriefNote, TripNight
from trips.planning.brief.facts import kept_of
from trips.planning.brief.parts import PARTS, Part
from trips.services.briefs.drafts import draft_of, facts_of
from trips.services.briefs.notes import ONLY_ADDED_TO, save_note
from trips.services.briefs.plans import OF_A_NIGHT, progress_of
from trips.services.briefs.publishing import publish, what_would_change
from trips.services.briefs.readiness import lacks_of
from trips.services.briefs.rendering import parts_of
from trips.services.leading import may_change
from trips.services.refusals import RefusedError
from trips.views.members import member, require_leader, trip_night_of


@dataclass(frozen=True, slots=True)
class HandPart:
    """A part as it is computed, with what was written into it; `refused` says why not."""

    part: Part
    computed: SafeString
    text: str
    is_instead: bool
    version: int
    may_replace: bool
    refused: str = ""


@require_safe
@login_required
def trip_night_brief(request: HttpRequest, night_id: int) -> HttpResponse:
    return _page(request, _night(request, night_id))


@require_POST
@login_required
def trip_night_brief_part(request: HttpRequest, night_id: int, part: str) -> HttpResponse:
    night = _led(request, night_id)
    if part not in PARTS:
        raise Http404
    typed = request.POST
    try:
        save_note(
            night,
            part,
            text=typed.get("text", ""),
            is_instead="is_instead" in typed,
            version=_number(typed.get("version", "")) or 0,
            by=member(request),
            now=timezone.now(),
        )
    except RefusedError as error:
        return _page(request, night, refused={part: error.sentence}, status=422)
    messages.success(request, _("Saved. People read it once it is published."))
    return HttpResponseRedirect(f"{reverse('trip_night_brief', args=[night.pk])}#hand-{part}")


@require_POST
@login_required
def trip_night_brief_publish(request: HttpRequest, night_id: int) -> HttpResponse:
    night = _led(request, night_id)
    try:
        brief = publish(
            night,
            by=member(request),
            now=timezone.now(),
            is_mailed="is_mailed" in request.POST,
            expects=_number(request.POST.get("expects", "")),
        )
    except RefusedError as error:
        messages.warning(request, error.sentence)
    except SkyError as error:
        messages.warning(request, sentence(error))
    else:
        words = _("Version %(number)d is published.")
        messages.success(request, words % {"number": brief.number})
    return redirect("trip_night_brief", night.pk)


@require_safe
@login_required
def trip_night_brief_version(request: HttpRequest, night_id: int, number: int) -> HttpResponse:
    """An old version as it was read: nothing of it is computed again."""
    night = _night(request, night_id)
    brief = get_object_or_404(Brief, night=night, number=number)
    shown = [_safe(brief.parts.get(name, "")) for name in PARTS]
    context = {"night": night, "trip": night.trip, "brief": brief, "parts": shown}
    return render(request, "trips/trip_night_brief_version.html", context)


def _page(
    request: HttpRequest,
    night: TripNight,
    *,
    refused: Mapping[str, str] | None = None,
    status: int = 200,
) -> HttpResponse:
    versions = list(night.briefs.defer("facts", "parts").select_related("published_by"))
    context: dict[str, Any] = {
        "night": night,
        "trip": night.trip,
        "zone": str(night.spot.site.zone),
        "may_change": may_change(member(request), night.trip),
        "versions": versions,
        "expects": versions[0].number + 1 if versions else 1,
        "progress": progress_of(versions[0]) if versions else None,
    }
    try:
        draft = draft_of(night, now=timezone.now())
        facts = facts_of(draft)
    except RefusedError as error:
        return render(request, TEMPLATE, context | {"trouble": error.sentence}, status=status)
    except SkyError as error:
        return render(request, TEMPLATE, context | {"trouble": sentence(error)}, status=status)
    computed = parts_of(kept_of(facts) | {"written": {}})
    context["parts"] = _parts(request, computed, draft.notes, refused or {})
    context["lacks"] = lacks_of(draft, facts)
    context["would_change"] = what_would_change(night, facts)
    return render(request, TEMPLATE, context, status=status)


TEMPLATE = "trips/trip_night_brief.html"


def _parts(
    request: HttpRequest,
    computed: Mapping[str, str],
    notes: Sequence[BriefNote],
    refused: Mapping[str, str],
) -> list[HandPart]:
    """Give every part; what was typed into a refused one stands there still."""
    by_part = {one.part: one for one in notes}
    shown = []
    for name, part in PARTS.items():
        note, why = by_part.get(name), refused.get(name, "")
        text, is_instead = (note.text, note.is_instead) if note else ("", False)
        if why:
            text, is_instead = request.POST.get("text", ""), "is_instead" in request.POST
        version = note.version if note else 0
        safe = _safe(computed[name])
        shown.append(
            HandPart(part, safe, text, is_instead, version, name not in ONLY_ADDED_TO, why)
        )
    return shown


def _safe(html: str) -> SafeString:
    """Rendered by our own templates, which escape what people typed."""
    return mark_safe(html)  # noqa: S308


def _night(request: HttpRequest, night_id: int) -> TripNight:
    found = trip_night_of(request, night_id)
    night: TripNight = TripNight.objects.select_related(*OF_A_NIGHT).get(pk=found.pk)
    return night


def _led(request: HttpRequest, night_id: int) -> TripNight:
    night = _night(request, night_id)
    require_leader(request, night.trip)
    return night


def _number(typed: str) -> int | None:
    return int(typed[:9]) if typed.isascii() and typed.isdecimal() else None
