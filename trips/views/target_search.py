"""Targets looked for by name, with how high each comes at the organisation's sites."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from trips.almanac.reach import Reach, midnight_season, reaches
from trips.almanac.targets import (
    Listing,
    SkyError,
    light_words,
    listings_by_kind,
    suggestions,
    target_of,
)
from trips.almanac.wording import sentence
from trips.models import Organisation, Site, TargetList
from trips.services.editing import EditedMeanwhileError
from trips.services.target_lists import add_target, free_name
from trips.views.members import member
from trips.views.page_address import PageAddress
from trips.views.versions import MOST_DIGITS

LONGEST_QUESTION = 200


@dataclass(frozen=True, slots=True)
class FoundTarget:
    """A target as the search tells it."""

    listing: Listing
    light: str
    least_altitude_degrees: float | None
    midnight: str
    reaches: list[Reach]


@require_safe
@login_required
def target_search(request: HttpRequest, organisation_id: int) -> HttpResponse:
    organisation = _organisation(request, organisation_id)
    asked, refused = request.GET.get("q", "")[:LONGEST_QUESTION].strip(), ""
    chosen = _number(request.GET.get("list", ""))
    try:
        listings_found = listings_by_kind(asked)
    except SkyError as error:
        listings_found, refused = [], sentence(error)
    address = PageAddress(request.path, {"list": chosen} if chosen else {})
    nearest = [] if listings_found or refused else suggestions(asked)
    context = {
        "organisation": organisation,
        "asked": asked,
        "refused": refused,
        "offered": [] if asked else _offered(listings_found, address),
        "kinds": [(words, _found(listings, organisation)) for words, listings in listings_found],
        "count": sum(len(listings) for _words, listings in listings_found),
        "nearest": [(name, address.with_(q=name)) for name in nearest],
        "chosen": chosen,
        "lists": TargetList.objects.current().filter(organisation=organisation),
        "has_sites": Site.objects.current().filter(organisation=organisation).exists(),
    }
    return render(request, "trips/target_search.html", context)


@require_POST
@login_required
def target_add(request: HttpRequest, organisation_id: int) -> HttpResponse:
    """Put a target into a list of the organisation, or into a new one."""
    organisation = _organisation(request, organisation_id)
    asked = request.POST.get("q", "")[:LONGEST_QUESTION]
    target_list = _chosen_list(organisation, request.POST.get("list", ""))
    try:
        entry = add_target(
            target_list, request.POST.get("target", ""), by=member(request), now=timezone.now()
        )
    except SkyError as error:
        messages.warning(request, sentence(error))
    except ValidationError as error:
        for words in error.messages:
            messages.warning(request, words)
    except EditedMeanwhileError as error:
        messages.warning(request, str(error))
    else:
        words = _("%(target)s is in %(list)s now.")
        messages.success(request, words % {"target": entry.name, "list": target_list.name})
    path = reverse("target_search", args=[organisation.pk])
    return redirect(PageAddress(path, {"q": asked, "list": target_list.pk}).with_())


def _organisation(request: HttpRequest, organisation_id: int) -> Organisation:
    mine = Organisation.objects.for_member(member(request))
    found: Organisation = get_object_or_404(mine, pk=organisation_id)
    return found


def _offered(
    kinds: list[tuple[str, list[Listing]]], address: PageAddress
) -> list[tuple[str, list[tuple[str, str]]]]:
    """Give what is offered unasked by name: all told in full would be a page of many metres."""
    return [
        (words, [(one.label, address.with_(q=one.label)) for one in listings])
        for words, listings in kinds
    ]


def _found(listings: list[Listing], organisation: Organisation) -> Iterator[FoundTarget]:
    sites = list(Site.objects.current().filter(organisation=organisation))
    year = timezone.now().year
    for listing in listings:
        target = target_of(listing.key)
        yield FoundTarget(
            listing,
            light_words(target.light),
            target.least_altitude_degrees,
            midnight_season(target, year=year),
            reaches(target, sites, year=year),
        )


def _chosen_list(organisation: Organisation, said: str) -> TargetList:
    """Give the list that was chosen; "" asks for a new one, and another's list is no page."""
    if not said:
        return _new_list(organisation)
    own = TargetList.objects.current().filter(organisation=organisation)
    found: TargetList = get_object_or_404(own, pk=_number(said))
    return found


def _number(said: str) -> int:
    """Read the number of a row; 0, which no row has, where it is none."""
    is_number = said.isascii() and said.isdecimal() and len(said) <= MOST_DIGITS
    return int(said) if is_number else 0


def _new_list(organisation: Organisation) -> TargetList:
    return TargetList(organisation=organisation, name=free_name(organisation, _("Wanted targets")))
