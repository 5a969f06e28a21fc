"""Seasons: listed, added, edited, archived."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trips.form_layout import SEASON_GROUPS, Meanwhile, laid_out, mistakes, told_second
from trips.forms import SeasonForm
from trips.models import Organisation, Season
from trips.services.editing import EditedMeanwhileError
from trips.services.proposals import propose_season
from trips.services.seasons import archive_season, save_season
from trips.views.members import by_organisation, coordinated, member, require_coordinator, season_of
from trips.views.versions import seen_version


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
@login_required
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
    return _answer(request, form, _("Add a season"))


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def season_edit(request: HttpRequest, season_id: int) -> HttpResponse:
    season = season_of(request, season_id)
    heading = _("Edit %(season)s") % {"season": season.name}
    return _answer(request, SeasonForm(request.POST or None, instance=season), heading)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def season_archive(request: HttpRequest, season_id: int) -> HttpResponse:
    season = season_of(request, season_id)
    require_coordinator(request, season.organisation)
    if request.method != "POST":
        return render(request, "trips/season_archive.html", {"season": season})
    season.version = seen_version(request, season)
    try:
        archive_season(season, now=timezone.now())
    except EditedMeanwhileError as error:
        messages.warning(request, str(error))
        return redirect("season_archive", season.pk)
    messages.success(request, _("%(season)s is archived.") % {"season": season.name})
    return redirect("season_list")


def _answer(request: HttpRequest, form: SeasonForm, heading: str) -> HttpResponse:
    season, meanwhile = form.instance, Meanwhile()
    is_new = season.pk is None
    if request.method == "POST" and form.is_valid():
        saved, meanwhile = _save(request, form)
        if saved:
            return redirect("season_detail", season.pk)
    context = {
        "form": form,
        "groups": laid_out(form, SEASON_GROUPS, meanwhile.stored),
        "mistakes": mistakes(form),
        "was_met": meanwhile.was_met,
        "heading": heading,
        "season": None if is_new else season,
        "organisation": season.organisation,
        "site_count": form.fields["sites"].queryset.count(),  # type: ignore[attr-defined]
    }
    return render(request, "trips/season_form.html", context)


def _save(request: HttpRequest, form: Any) -> tuple[bool, Meanwhile]:
    season, sites = form.instance, list(form.cleaned_data["sites"])
    if form.cleaned_data["version"] is not None:
        season.version = form.cleaned_data["version"]
    try:
        save_season(season, sites, by=member(request), now=timezone.now())
    except EditedMeanwhileError:
        return False, _tell_the_second(form)
    except ValidationError as error:
        form.add_error(None, error)
        return False, Meanwhile()
    messages.success(request, _("%(season)s is saved.") % {"season": season.name})
    return True, Meanwhile()


def _tell_the_second(form: Any) -> Meanwhile:
    """Keep what was typed, show what is stored, and let the next save be a knowing one."""
    stored = Season.objects.get(pk=form.instance.pk)
    meanwhile = Meanwhile.between(form, stored)
    form.data = form.data.copy()
    form.data["version"] = str(stored.version)
    form.add_error(None, told_second(stored))
    return meanwhile
