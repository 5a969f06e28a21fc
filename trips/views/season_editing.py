"""Seasons: listed, added, edited, archived."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError
from django.db.models import Count
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trips.forms.layout import SEASON_GROUPS, laid_out, mistakes
from trips.forms.meanwhile import NOBODY, Meanwhile, is_behind, met
from trips.forms.season import SeasonForm
from trips.models import Organisation, Season
from trips.services.editing import EditedMeanwhileError
from trips.services.proposals import propose_season, twins
from trips.services.seasons import archive_season, save_season
from trips.views.archiving import archiving
from trips.views.kept_typing import typing_kept
from trips.views.members import by_organisation, coordinated, member, season_of


@require_safe
@login_required
def season_list(request: HttpRequest) -> HttpResponse:
    mine = Season.objects.for_member(member(request)).select_related("organisation")
    counted = mine.annotate(site_count=Count("sites", distinct=True))
    seasons = list(counted.current())
    context = {
        "groups": by_organisation(request, seasons),
        "archived": counted.exclude(archived_at=None),
        "coordinated": coordinated(request, {season.organisation for season in seasons}),
    }
    return render(request, "trips/season_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def season_add(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    proposed = propose_season(organisation, now=timezone.now())
    initial = {
        "name": proposed.name,
        "first_night": proposed.first_night,
        "last_night": proposed.last_night,
        "sites": proposed.sites,
    }
    form = SeasonForm(request.POST or None, instance=Season(organisation=organisation),
                      initial=initial)  # fmt: skip
    return _answer(request, form, NOBODY, _("Add a season"))


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def season_edit(request: HttpRequest, season_id: int) -> HttpResponse:
    season = season_of(request, season_id)
    heading = _("Edit %(season)s") % {"season": season.name}
    typed: QueryDict | None = request.POST if request.method == "POST" else None
    form, meanwhile = SeasonForm(typed, instance=season), NOBODY
    if typed is not None and is_behind(typed, season):
        data, meanwhile = met(form, SeasonForm(instance=season))
        form = SeasonForm(data, instance=season)
    try:
        return _answer(request, form, meanwhile, heading)
    except EditedMeanwhileError:  # between reading and saving: look at it anew
        return season_edit(request, season_id)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def season_archive(request: HttpRequest, season_id: int) -> HttpResponse:
    season = season_of(request, season_id)
    return archiving(
        request, season, lambda: archive_season(season, now=timezone.now()),
        organisation=season.organisation,
        template="trips/season_archive.html", then=reverse("season_list"),
    )  # fmt: skip


def _answer(
    request: HttpRequest, form: SeasonForm, meanwhile: Meanwhile, heading: str
) -> HttpResponse:
    season = form.instance
    is_new = season.pk is None
    # Judged in any case, so that a mistake stands beside what both editors changed.
    may_save = request.method == "POST" and form.is_valid() and not meanwhile.is_clash
    if may_save and _save(request, form, meanwhile):
        return redirect("season_detail", season.pk)
    context = {
        "form": form,
        "groups": laid_out(form, SEASON_GROUPS, meanwhile.stored),
        "mistakes": [*meanwhile.told(form), *mistakes(form)],
        "meanwhile": meanwhile,
        "heading": heading,
        "season": None if is_new else season,
        "organisation": season.organisation,
        "site_count": form.fields["sites"].queryset.count(),  # type: ignore[attr-defined]
    }
    return render(request, "trips/season_form.html", context)


def _save(request: HttpRequest, form: Any, meanwhile: Meanwhile) -> bool:
    season, sites = form.instance, list(form.cleaned_data["sites"])
    try:
        save_season(season, sites, by=member(request), now=timezone.now())
    except ValidationError as error:
        form.add_error(None, error)
        return False
    messages.success(request, _("%(season)s is saved.") % {"season": season.name})
    if meanwhile.taken:
        messages.info(request, meanwhile.taken_over())
    for twin in twins(season):
        words = _("%(season)s has the same dates and sites: one of the two may be one too many.")
        messages.warning(request, words % {"season": twin.name})
    return True
