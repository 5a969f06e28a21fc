"""A target: what it is, how high it comes, and which lens of a bag suits it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from trips.almanac.camera_words import degrees_words, lens_words
from trips.almanac.framing import (
    LensForTarget,
    Wanted,
    declination_of,
    lenses_for,
    usual_field,
    wanted_of,
)
from trips.almanac.framing_words import (
    answer_words,
    fit_words,
    how_counted,
    picture_words,
    practice_words,
    seen_words,
    share_words,
    time_words,
    tracker_words,
)
from trips.almanac.reach import midnight_season, reaches
from trips.almanac.targets import (
    Listing,
    SkyError,
    Target,
    find_target,
    kind_words,
    light_words,
    listing_of,
    typed_as,
)
from trips.almanac.wording import sentence
from trips.charts.frames_nested import NestedPicture, SeenFrame, nested_picture
from trips.forms.layout import mistakes
from trips.forms.target_asked import REMEMBERED, BagForm, read_bag_asked
from trips.models import Camera, Organisation, Site, TargetEntry
from trips.views.members import member
from trips.views.page_address import PageAddress
from trips.views.versions import MOST_DIGITS

SESSION = "bag"


@dataclass(frozen=True, slots=True)
class LensRow:
    """A lens as the table tells it; `address` leads to what is set on it."""

    lens: str
    sees: str
    fit: str
    share: str
    seconds: str
    tracker: str
    address: str
    is_best: bool


@require_safe
@login_required
def target_show(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation: Organisation = get_object_or_404(mine, pk=organisation_id)
    asked = request.GET.get("target", "")
    try:
        target = find_target(asked)
    except SkyError as error:
        context = {"organisation": organisation, "asked": asked, "refused": sentence(error)}
        return render(request, "trips/target_show.html", context)
    entry = _entry(request, organisation, target)
    listing = listing_of(target.key)
    context = {
        "organisation": organisation,
        "target": target,
        "entry": entry,
        "name": entry.name if entry else listing.label if listing else target.name,
        "search": typed_as(target.key),
        **_about(target, listing, organisation),
        **_with_which_lens(request, organisation, target, _field(target, listing, entry)),
    }
    return render(request, "trips/target_show.html", context)


def _entry(request: HttpRequest, organisation: Organisation, target: Target) -> TargetEntry | None:
    """Give the entry of the list that is named, if it is one of the organisation's."""
    said = request.GET.get("list", "")
    if not (said.isascii() and said.isdecimal() and len(said) <= MOST_DIGITS):
        return None
    entries = TargetEntry.objects.filter(target_list__organisation=organisation)
    return entries.filter(target_list=int(said), target=target.key).first()


def _field(target: Target, listing: Listing | None, entry: TargetEntry | None) -> float | None:
    if entry and entry.field_degrees is not None:
        return entry.field_degrees
    return usual_field(target, listing.field_degrees if listing else None)


def _about(target: Target, listing: Listing | None, organisation: Organisation) -> dict[str, Any]:
    year = timezone.now().year
    sites = list(Site.objects.current().filter(organisation=organisation))
    return {
        "kind": kind_words(target.kind),
        "about": listing.about if listing else "",
        "other_names": listing.other_names if listing else (),
        "light": light_words(target.light),
        "midnight": midnight_season(target, year=year),
        "reaches": reaches(target, sites, year=year),
        "has_sites": bool(sites),
    }


def _with_which_lens(
    request: HttpRequest, organisation: Organisation, target: Target, usual: float | None
) -> dict[str, Any]:
    mine = Camera.objects.for_member(member(request)).current().filter(organisation=organisation)
    kept = request.session.get(SESSION, {})
    form, bag = read_bag_asked(request.GET, kept, list(mine), usual_field=usual)
    told: dict[str, Any] = {"form": form, "mistakes": mistakes(form)}
    if bag is None:
        return told
    _remember(request)
    width = usual if bag.width_degrees is None else bag.width_degrees
    wanted = None if width is None else wanted_of(target, width, bag.sensor)
    declination = declination_of(target)
    found = lenses_for(bag.lenses, bag.sensor, wanted, declination=declination)
    by_width = sorted(found, key=lambda one: (one.lens.focal_mm, one.lens.widest_f_number or 0))
    best = found[0] if wanted else None
    return told | {
        "strange": bag.strange,
        "wanted": wanted,
        "field": degrees_words(width) if width else "",
        "answer": answer_words(best, wanted) if best and wanted else "",
        "practice": practice_words(target.key),
        "rows": [_row(one, form, target, is_best=one is best) for one in by_width],
        "has_shares": any(one.share is not None for one in found),
        "how": list(how_counted(moves=declination is None)),
        "picture": _picture(by_width, best, wanted) if best and wanted else None,
    }


def _remember(request: HttpRequest) -> None:
    """Keep the bag that was asked with for the next target."""
    asked = {name: request.GET[name] for name in REMEMBERED if name in request.GET}
    kept = request.session.get(SESSION, {})
    if asked and kept | asked != kept:
        request.session[SESSION] = kept | asked


def _row(one: LensForTarget, form: BagForm, target: Target, *, is_best: bool) -> LensRow:
    return LensRow(
        lens=lens_words(one.lens),
        sees=seen_words(one),
        fit=fit_words(one),
        share=share_words(one),
        seconds=time_words(one),
        tracker=tracker_words(one),
        address=_calculator(one, form, target),
        is_best=is_best,
    )


def _calculator(one: LensForTarget, form: BagForm, target: Target) -> str:
    """Lead to the page that tells what to set on this lens, toward this target."""
    said, declination = str(form.cleaned_data["sensor"]), declination_of(target)
    camera = form.cameras.get(said)
    asked = {
        "focal": f"{one.lens.focal_mm:g}",
        "widest": f"{one.lens.widest_f_number:g}",
        "draws": "" if one.lens.projection == "rectilinear" else one.lens.projection,
        "camera": camera.pk if camera else None,
        "sensor": None if camera else said,
        "declination": "" if declination is None else f"{declination:.1f}",
        "on": "tracker" if one.wants_tracker else "",
    }
    return PageAddress(reverse("camera"), asked).with_()


def _picture(rows: list[LensForTarget], best: LensForTarget, wanted: Wanted) -> NestedPicture:
    frames = [
        SeenFrame(
            f"{one.lens.focal_mm:g} mm",
            one.fields.horizontal,
            one.fields.vertical,
            is_circle=one.fields.is_circle,
            is_best=one is best,
        )
        for one in rows
    ]
    size = wanted.size
    return nested_picture(
        frames,
        wanted=(wanted.width, wanted.height),
        target=(size.long, size.short) if size else None,
        title=_("What each lens sees around it, to one scale"),
        description=picture_words(rows, wanted),
    )
