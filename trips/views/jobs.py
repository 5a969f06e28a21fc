"""A job's progress, and the way to stop it."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from trips.models import Job
from trips.services.jobs import request_stop
from trips.views.members import member


@require_safe
@login_required
def job_detail(request: HttpRequest, job_id: int) -> HttpResponse:
    job = _job(request, job_id)
    context = {
        "job": job,
        "open": job.state in (Job.State.QUEUED, Job.State.RUNNING),
        "seasons": job.site.seasons.current(),
    }
    return render(request, "trips/job_detail.html", context)


@require_POST
@login_required
def job_stop(request: HttpRequest, job_id: int) -> HttpResponse:
    job = _job(request, job_id)
    request_stop(job, now=timezone.now())
    return redirect("job_detail", job.pk)


def _job(request: HttpRequest, job_id: int) -> Job:
    mine = Job.objects.for_member(member(request)).select_related("site")
    job: Job = get_object_or_404(mine, pk=job_id)
    return job
