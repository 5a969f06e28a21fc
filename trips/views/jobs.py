"""Jobs: how far they are, stopped, asked again, and found again after leaving."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.contrib.auth.decorators import login_required
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from trips.models import Job, Season
from trips.services.jobs import request_stop
from trips.services.waiting import seconds_left, work_of
from trips.services.working import ask_again
from trips.views.members import member

JOBS_SHOWN = 60
LONG_IN_THE_QUEUE = timedelta(seconds=30)


@require_safe
@login_required
def job_list(request: HttpRequest) -> HttpResponse:
    mine = Job.objects.for_member(member(request)).select_related("site")
    recent = mine.exclude(state__in=[Job.State.QUEUED, Job.State.RUNNING])
    context = {
        "work": work_of(mine.open(), now=timezone.now()),
        "recent": recent.order_by("-finished_at", "-pk")[:JOBS_SHOWN],
    }
    return render(request, "trips/job_list.html", context)


@require_safe
@login_required
def jobs_open(request: HttpRequest) -> HttpResponse:
    """The part of other pages that shows open jobs; when none is left, the page is loaded anew."""
    open_jobs = Job.objects.for_member(member(request)).open().select_related("site")
    work = work_of(_asked_for(open_jobs, request), now=timezone.now())
    # Asked again as it was asked now: for the same season or site.
    context = {"work": work, "again": request.get_full_path()}
    response = render(request, "trips/_work.html", context)
    if work is None:
        response.headers["HX-Refresh"] = "true"
    return response


@require_safe
@login_required
def job_detail(request: HttpRequest, job_id: int) -> HttpResponse:
    return render(request, "trips/job_detail.html", _context(_job(request, job_id)))


@require_safe
@login_required
def job_progress(request: HttpRequest, job_id: int) -> HttpResponse:
    """The part of the job's page that changes."""
    return render(
        request, "trips/_job_state.html", _context(_job(request, job_id)) | {"part": True}
    )


@require_POST
@login_required
def job_stop(request: HttpRequest, job_id: int) -> HttpResponse:
    job = _job(request, job_id)
    request_stop(job, now=timezone.now())
    return redirect("job_detail", job.pk)


@require_POST
@login_required
def job_again(request: HttpRequest, job_id: int) -> HttpResponse:
    """Ask for the same work anew, from the site as it is now."""
    job = _job(request, job_id)
    newer = ask_again(job, by=member(request), now=timezone.now())
    return redirect("job_detail", newer.pk)


def _job(request: HttpRequest, job_id: int) -> Job:
    mine = Job.objects.for_member(member(request)).select_related("site")
    job: Job = get_object_or_404(mine, pk=job_id)
    return job


def _asked_for(jobs: QuerySet[Job], request: HttpRequest) -> QuerySet[Job]:
    """Narrow to a season by `?season=` or to a site by `?site=`; nonsense finds nothing."""
    season, site = request.GET.get("season"), request.GET.get("site")
    if season is not None:
        jobs = jobs.filter(site__seasons=int(season)) if _is_number(season) else jobs.none()
    if site is not None:
        jobs = jobs.filter(site=int(site)) if _is_number(site) else jobs.none()
    return jobs


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdecimal() and len(text) < 19


def _context(job: Job) -> dict[str, object]:
    now = timezone.now()
    return {
        "job": job,
        "open": job.state in (Job.State.QUEUED, Job.State.RUNNING),
        "seconds_left": seconds_left([job], now=now),
        "waits_long": _waits_long(job, now),
        "seasons": _seasons(job),
    }


def _waits_long(job: Job, now: datetime) -> bool:
    return job.state == Job.State.QUEUED and now - job.created_at > LONG_IN_THE_QUEUE


def _seasons(job: Job) -> QuerySet[Season]:
    """The seasons that the job's nights are for."""
    seasons: QuerySet[Season] = job.site.seasons.current().filter(
        first_night__lte=job.last_night, last_night__gte=job.first_night
    )
    return seasons
