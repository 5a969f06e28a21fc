"""Work that takes time. The row is the truth; the message that carries its id may be lost."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from trips.models.organisation import Organisation
from trips.models.site import Site
from trips.queries import JobQuerySet


class Job(models.Model):
    class Kind(models.TextChoices):
        SITE_NIGHTS = "site_nights", _("nights of a site")
        TARGET_WINDOWS = "target_windows", _("targets at a site")

    class State(models.TextChoices):
        QUEUED = "queued", _("waiting")
        RUNNING = "running", _("running")
        DONE = "done", _("done")
        FAILED = "failed", _("failed")
        STOPPED = "stopped", _("stopped")

    organisation = models.ForeignKey(Organisation, on_delete=models.CASCADE, related_name="jobs")
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    kind = models.CharField(max_length=24, choices=Kind.choices)
    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="jobs")
    first_night = models.DateField()
    last_night = models.DateField()
    # The inputs that the work was asked for with: a later edit makes another job.
    fingerprint = models.CharField(max_length=64)

    state = models.CharField(max_length=8, choices=State.choices, default=State.QUEUED)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField()
    stop_requested = models.BooleanField(default=False)
    attempts = models.PositiveSmallIntegerField(default=0)
    most_attempts = models.PositiveSmallIntegerField(default=5)
    # The claim: who holds the job, and until when without a sign of life.
    lease_owner = models.UUIDField(null=True)
    lease_expires_at = models.DateTimeField(null=True)
    posted_at = models.DateTimeField(null=True)
    error = models.TextField(blank=True)

    created_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    created_at = models.DateTimeField()
    started_at = models.DateTimeField(null=True)
    finished_at = models.DateTimeField(null=True)

    objects = JobQuerySet.as_manager()

    class Meta:
        ordering = ["-created_at", "-pk"]
        indexes = [models.Index(fields=["state", "lease_expires_at"], name="job_by_state")]
        constraints = [
            # Asking twice for the same open work gives the same job.
            models.UniqueConstraint(
                fields=["kind", "site", "first_night", "last_night", "fingerprint"],
                condition=models.Q(state__in=["queued", "running"]),
                name="one_open_job_for_the_same_work",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.site_id} {self.first_night}–{self.last_night}: {self.state}"
