"""The brief of a night in its instructor's hand: as it would be read, and what waits for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.utils.functional import Promise
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe

from trips.almanac.wording import SkyError, sentence
from trips.models import Brief, BriefNote, Enrolment, Trip, TripNight
from trips.planning.brief.facts import kept_of
from trips.planning.brief.parts import PARTS, Part
from trips.services.briefs.deciding import decider
from trips.services.briefs.drafts import Draft, draft_of, facts_of
from trips.services.briefs.mailing import mailing_of, telling_of
from trips.services.briefs.notes import ONLY_ADDED_TO
from trips.services.briefs.plans import OF_A_NIGHT, progress_of
from trips.services.briefs.publishing import news_of
from trips.services.briefs.readiness import Lack, lacks_of
from trips.services.briefs.rendering import parts_of
from trips.services.leading import may_change
from trips.services.refusals import RefusedError
from trips.views.members import member, trip_night_of

TEMPLATE = "trips/trip_night_brief.html"
# How a part came to be, said beside it.
COMPUTED = _("Computed.")
BOTH = _("Computed, with your words first.")
INSTEAD = _("Your words, instead of what is computed.")
WRITTEN = _("Your words: nothing is computed here.")
EMPTY = _("Nothing is computed here: people see no such part.")


@dataclass(frozen=True, slots=True)
class HandPart:
    """A part as people would read it, and what was written into it; `computed` stands by itself
    where something is written instead of it, `refused` says why it was not saved."""

    part: Part
    read: SafeString
    computed: SafeString
    how: Promise
    note: BriefNote
    refused: str = ""
    is_saved: bool = False

    @property
    def may_replace(self) -> bool:
        return self.part.name not in ONLY_ADDED_TO

    @property
    def is_written(self) -> bool:
        return self.note.pk is not None


@dataclass(frozen=True, slots=True)
class Typed:
    """Words that were sent for a part and refused: they stand there still."""

    part: str
    text: str
    is_instead: bool
    refused: str


@require_safe
@login_required
def trip_night_brief(request: HttpRequest, night_id: int) -> HttpResponse:
    return hand_page(request, night_in_hand(request, night_id))


@require_safe
@login_required
def trip_night_brief_reached(request: HttpRequest, night_id: int) -> HttpResponse:
    """The part of the page that says how far plans and mail are; asked for until they are done."""
    night = night_in_hand(request, night_id)
    return render(request, "trips/trip_night_brief_reached.html", _reached(request, night))


@require_safe
@login_required
def trip_night_brief_version(request: HttpRequest, night_id: int, number: int) -> HttpResponse:
    """A version as it was read: nothing of it is computed again."""
    night = night_in_hand(request, night_id)
    briefs = Brief.objects.select_related("published_by")
    brief = get_object_or_404(briefs, night=night, number=number)
    context = {
        "night": night,
        "trip": night.trip,
        "zone": str(night.spot.site.zone),
        "brief": brief,
        "parts": [_safe(brief.parts.get(name, "")) for name in PARTS],
        "newest": night.briefs.values_list("number", flat=True)[0],
    }
    return render(request, "trips/trip_night_brief_version.html", context)


def hand_page(
    request: HttpRequest, night: TripNight, *, typed: Typed | None = None, status: int = 200
) -> HttpResponse:
    context = _reached(request, night)
    try:
        draft = draft_of(night, now=timezone.now())
        context |= _drafted(request, draft, typed)
    except RefusedError as error:
        context["trouble"] = error.sentence
    except SkyError as error:
        context["trouble"] = sentence(error)
    return render(request, TEMPLATE, context, status=status)


def night_in_hand(request: HttpRequest, night_id: int) -> TripNight:
    found = trip_night_of(request, night_id)
    night: TripNight = TripNight.objects.select_related(*OF_A_NIGHT, "decided_by").get(pk=found.pk)
    return night


def _reached(request: HttpRequest, night: TripNight) -> dict[str, Any]:
    """Give what people have by now: the versions, how far their plans and their mail are."""
    now = timezone.now()
    versions = list(night.briefs.defer("facts", "parts").select_related("published_by"))
    last = versions[0] if versions else None
    plans = progress_of(last) if last else None
    mail = mailing_of(last, at=now) if last and last.is_mailed else None
    telling = telling_of(night, at=now)
    is_over = night.ends_at <= now or night.trip.status == Trip.Status.CANCELLED
    lacks_plans = plans is not None and plans.done < plans.total and not is_over
    return {
        "night": night,
        "trip": night.trip,
        "zone": str(night.spot.site.zone),
        "may_change": may_change(member(request), night.trip),
        "versions": versions,
        "expects": last.number + 1 if last else 1,
        "plans": plans,
        "mail": mail,
        "telling": telling,
        "decider": decider(night),
        "coming": Enrolment.objects.filter(trip=night.trip_id).coming().count(),
        "is_over": is_over,
        "is_moving": lacks_plans or any(one and one.is_moving for one in (mail, telling)),
    }


def _drafted(request: HttpRequest, draft: Draft, typed: Typed | None) -> dict[str, Any]:
    facts = facts_of(draft)
    kept = kept_of(facts)
    shown = _Shown(parts_of(kept), parts_of(kept | {"written": {}}), typed)
    notes = {one.part: one for one in draft.notes}
    saved = request.GET.get("saved", "")
    return {
        "parts": [shown.part(part, notes.get(part.name), saved=saved) for part in PARTS.values()],
        "lacks": list(_mended(lacks_of(draft, facts), draft)),
        "news": news_of(draft.night, facts),
    }


@dataclass(frozen=True, slots=True)
class _Shown:
    """All parts as they would be read, and as they are computed without a word of the hand."""

    read: Mapping[str, str]
    computed: Mapping[str, str]
    typed: Typed | None

    def part(self, part: Part, note: BriefNote | None, *, saved: str) -> HandPart:
        name = part.name
        computed = self.computed[name]
        typed = self.typed if self.typed and self.typed.part == name else None
        hides = bool(note and note.is_instead and computed)
        row = note or BriefNote(part=name, version=0)
        if typed:
            row.text, row.is_instead = typed.text, typed.is_instead
        return HandPart(
            part=part,
            read=_safe(self.read[name]),
            computed=_safe(_apart(computed, name) if hides else ""),
            how=_how(note, is_computed=bool(computed)),
            note=row,
            refused=typed.refused if typed else "",
            is_saved=saved == name and typed is None,
        )


def _how(note: BriefNote | None, *, is_computed: bool) -> Promise:
    if note is None:
        return COMPUTED if is_computed else EMPTY
    if not is_computed:
        return WRITTEN
    return INSTEAD if note.is_instead else BOTH


def _apart(html: str, name: str) -> str:
    """Give it ids of its own: what people read has the others."""
    own = html.replace(f' id="{name}" aria-labelledby="part-{name}"', f' id="computed-{name}"')
    return own.replace(f' id="part-{name}"', "")


def _mended(lacks: list[Lack], draft: Draft) -> Iterator[tuple[str, str]]:
    """Give each with the address where it is mended."""
    night, spot = draft.night, draft.sky.spot
    edit = reverse("trip_night_edit", args=[night.pk])
    spot_edit = reverse("spot_edit", args=[spot.pk])
    pages = {
        "night": edit,
        "decision": f"{edit}#group-decision",
        "tides": f"{edit}#tides",
        "weather": f"{edit}#group-weather",
        "site": reverse("site_edit", args=[spot.site_id]),
        "spot": f"{spot_edit}#landmarks",
        "skyline": f"{spot_edit}#group-skyline",
        "instructors": reverse("trip_instructors", args=[night.trip_id]),
        "targets": reverse("trip_edit", args=[night.trip_id]),
        "people": reverse("trip_detail", args=[night.trip_id]) + "#people",
    }
    for one in lacks:
        yield one.words, pages[one.where]


def _safe(html: str) -> SafeString:
    """Rendered by our own templates, which escape what people typed."""
    return mark_safe(html)  # noqa: S308
