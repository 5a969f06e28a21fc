"""Seasons: listed, added, edited, ranked, compared, computed again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError
from django.db.models import Count, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trips.forms import SeasonForm
from trips.models import Job, Organisation, Season, Site
from trips.planning.nights import RUN_LENGTH
from trips.planning.season_view import SiteSeason
from trips.services.editing import EditedMeanwhileError
from trips.services.judged import JudgedSeason, judge_season
from trips.services.seasons import request_season, save_season
from trips.views.members import by_organisation, member

RUNS_SHOWN, NIGHTS_SHOWN = 5, 10
LONGEST_RUN_ASKED = 14


@require_safe
@login_required
def season_list(request: HttpRequest) -> HttpResponse:
    mine = Season.objects.for_member(member(request)).current()
    seasons = list(mine.annotate(site_count=Count("sites", distinct=True)))
    groups = by_organisation(request, seasons)
    return render(request, "trips/season_list.html", {"groups": groups})


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def season_add(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    return _edit(request, Season(organisation=organisation), _("Add a season"))


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def season_edit(request: HttpRequest, season_id: int) -> HttpResponse:
    season = _season(request, season_id)
    return _edit(request, season, _("Edit %(season)s") % {"season": season.name})


@require_POST
@login_required
def season_recompute(request: HttpRequest, season_id: int) -> HttpResponse:
    season = _season(request, season_id)
    jobs = request_season(season, by=member(request), now=timezone.now())
    if not jobs:
        messages.info(request, _("Every night is there and up to date: nothing to compute."))
    elif len(jobs) == 1:
        return redirect("job_detail", jobs[0].pk)
    return redirect("season_detail", season.pk)


@require_safe
@login_required
def season_detail(request: HttpRequest, season_id: int) -> HttpResponse:
    season = _season(request, season_id)
    run_length, run_mistake = _run_length(request.GET.get("run"))
    judged = judge_season(season)
    moons: list[object] = []
    chosen, site_mistake = _chosen_site(judged, request.GET.get("site"))
    context = {
        "season": season,
        "judged": judged,
        "run_length": run_length,
        "run_lengths": range(1, 8),
        "mistakes": [said for said in (run_mistake, site_mistake) if said],
        "runs": moons[:RUNS_SHOWN],
        "more_runs": moons[RUNS_SHOWN:],
        "empty_sites": [_Empty.of(one) for one in judged.view.sites if _is_empty(one)],
        "chosen": chosen,
        "jobs": _open_jobs(season, judged),
    }
    return render(request, "trips/season_detail.html", context)


@require_safe
@login_required
def season_compare(request: HttpRequest, season_id: int) -> HttpResponse:
    season = _season(request, season_id)
    judged = judge_season(season)
    months = sorted({each.month for site in judged.view.sites for each in site.months})
    context = {
        "season": season,
        "judged": judged,
        "months": [date(year, month, 1) for year, month in months],
        "rows": [_compared(site, months) for site in judged.view.sites],
        "empty_sites": [_Empty.of(one) for one in judged.view.sites if _is_empty(one)],
    }
    return render(request, "trips/season_compare.html", context)


@dataclass(frozen=True, slots=True)
class _Empty:
    """A site without a candidate, and what lighter levels would give there."""

    site: Site
    others: list[tuple[str, int]]

    @classmethod
    def of(cls, found: SiteSeason[Site]) -> _Empty:
        levels = list(found.candidates_by_level.items())[1:]
        labels = dict(Season.DarkLevel.choices)
        return cls(found.site, [(str(labels[level]), count) for level, count in levels])


def _is_empty(found: SiteSeason[Site]) -> bool:
    return bool(found.nights) and not found.candidates


def _season(request: HttpRequest, season_id: int) -> Season:
    mine = Season.objects.for_member(member(request)).select_related("organisation")
    season: Season = get_object_or_404(mine, pk=season_id)
    return season


def _edit(request: HttpRequest, season: Season, heading: str) -> HttpResponse:
    form = SeasonForm(request.POST or None, instance=season)
    if request.method == "POST" and form.is_valid() and _save(request, form):
        return redirect("season_detail", season.pk)
    context = {
        "form": form,
        "heading": heading,
        "organisation": season.organisation,
        "no_sites": not form.fields["sites"].queryset.exists(),  # type: ignore[attr-defined]
    }
    return render(request, "trips/season_form.html", context)


def _save(request: HttpRequest, form: SeasonForm) -> bool:
    season, sites = form.instance, list(form.cleaned_data["sites"])
    if form.cleaned_data["version"] is not None:
        season.version = form.cleaned_data["version"]
    try:
        save_season(season, sites, by=member(request), now=timezone.now())
    except EditedMeanwhileError as error:
        form.add_error(None, str(error))
    except ValidationError as error:
        form.add_error(None, error)
    else:
        messages.success(request, _("%(season)s is saved.") % {"season": season.name})
        return True
    return False


def _run_length(asked: str | None) -> tuple[int, str | None]:
    """Read `?run=`; what is no length gives the usual one and a sentence."""
    if asked is None:
        return RUN_LENGTH, None
    if asked.isdecimal() and asked.isascii() and len(asked) <= 2:
        length = int(asked)
        if 1 <= length <= LONGEST_RUN_ASKED:
            return length, None
    said = _("“%(asked)s” is not a number of nights from 1 to %(most)d: runs of %(usual)d shown.")
    return RUN_LENGTH, said % {
        "asked": asked[:20],
        "most": LONGEST_RUN_ASKED,
        "usual": RUN_LENGTH,
    }


def _chosen_site(
    judged: JudgedSeason, asked: str | None
) -> tuple[SiteSeason[Site] | None, str | None]:
    """Read `?site=`; what is no site of the season gives the first one and a sentence."""
    first = judged.view.sites[0] if judged.view.sites else None
    if asked is None:
        return first, None
    for found in judged.view.sites:
        if str(found.site.pk) == asked:
            return found, None
    return first, _("“%(asked)s” is not a site of this season.") % {"asked": asked[:20]}


def _open_jobs(season: Season, judged: JudgedSeason) -> QuerySet[Job]:
    return (
        Job.objects.open()
        .filter(
            site__in=[found.site for found in judged.view.sites],
            first_night__lte=season.last_night,
            last_night__gte=season.first_night,
        )
        .select_related("site")
    )


def _compared(found: SiteSeason[Site], months: list[tuple[int, int]]) -> dict[str, object]:
    by_month = {each.month: each for each in found.months}
    return {
        "found": found,
        "cells": [by_month.get(month) for month in months],
        "moonless_hours": sum(each.moonless_hours for each in found.months),
    }
