"""Lists of targets: listed, shown, copied to begin with, taken away as a table, archived."""

from __future__ import annotations

from dataclasses import dataclass, replace

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trips.almanac.reach import Reach, midnight_season, reaches
from trips.almanac.targets import (
    SkyError,
    find_target,
    kind_words,
    light_words,
    starters,
)
from trips.almanac.wording import sentence
from trips.models import Organisation, Site, TargetEntry, TargetList
from trips.services.target_lists import archive_list, copy_starter
from trips.services.target_tables import COLUMNS, rows_of
from trips.views.archiving import archiving
from trips.views.downloads import csv_file
from trips.views.members import (
    by_organisation,
    coordinated,
    member,
    target_list_of,
)


@dataclass(frozen=True, slots=True)
class ShownEntry:
    """An entry with what its kind says where the entry says nothing."""

    entry: TargetEntry
    kind: str
    light: str
    least_altitude_degrees: float | None
    midnight: str
    reaches: list[Reach]


@require_safe
@login_required
def target_lists(request: HttpRequest) -> HttpResponse:
    mine = TargetList.objects.for_member(member(request)).select_related("organisation")
    counted = mine.annotate(target_count=Count("entries", distinct=True))
    lists = list(counted.current().prefetch_related("seasons"))
    context = {
        "groups": by_organisation(request, lists),
        "archived": counted.exclude(archived_at=None),
        "coordinated": coordinated(request, {one.organisation for one in lists}),
    }
    return render(request, "trips/target_list_list.html", context)


@require_safe
@login_required
def target_list(request: HttpRequest, list_id: int) -> HttpResponse:
    shown = target_list_of(request, list_id)
    sites = list(Site.objects.current().filter(organisation=shown.organisation))
    year = timezone.now().year
    context = {
        "list": shown,
        "entries": [_shown(entry, sites, year) for entry in shown.entries.all()],
        "seasons": shown.seasons.current(),
        "may_archive": coordinated(request, [shown.organisation]),
    }
    return render(request, "trips/target_list_detail.html", context)


@require_safe
@login_required
def target_list_csv(request: HttpRequest, list_id: int) -> HttpResponse:
    shown = target_list_of(request, list_id)
    return csv_file([shown.name], COLUMNS, rows_of(shown))


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def target_list_copy(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    refused = ""
    if request.method == "POST":
        name = request.POST.get("name", "")[:40]
        try:
            copy = copy_starter(organisation, name, by=member(request), now=timezone.now())
        except SkyError as error:
            refused = sentence(error)
        else:
            messages.success(request, _("%(list)s is yours now: change it.") % {"list": copy.name})
            return redirect("target_list", copy.pk)
    context = {"organisation": organisation, "starters": starters(), "refused": refused}
    return render(request, "trips/target_list_copy.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def target_list_archive(request: HttpRequest, list_id: int) -> HttpResponse:
    shown = target_list_of(request, list_id)
    return archiving(
        request, shown, lambda: archive_list(shown, now=timezone.now()),
        organisation=shown.organisation,
        template="trips/target_list_archive.html", then=reverse("target_lists"),
        seasons=shown.seasons.current(),
    )  # fmt: skip


def _shown(entry: TargetEntry, sites: list[Site], year: int) -> ShownEntry:
    try:
        target = find_target(entry.target)
    except SkyError:  # a kind or a catalogue that lost it since: the row stays to be looked at
        return ShownEntry(entry, _("no longer known"), entry.light, None, "", [])
    if entry.least_altitude_degrees is not None:
        target = replace(target, least_altitude_degrees=entry.least_altitude_degrees)
    return ShownEntry(
        entry,
        kind_words(target.kind),
        light_words(entry.light or target.light),
        target.least_altitude_degrees,
        midnight_season(target, year=year),
        reaches(target, sites, year=year),
    )
