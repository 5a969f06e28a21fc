"""Compute what is missing or stale of a season, here and now, and sum it up site by site."""

from __future__ import annotations

import time
from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone
from django.utils.translation import gettext as _

from trips.management.plain import PlainCommand, RefusalError, add_format_option, progress
from trips.management.printing import Record, as_csv, as_json, as_table
from trips.management.season_options import add_organisation_option, season_named
from trips.models import Job, Site
from trips.planning.season_view import SiteSeason
from trips.services import working
from trips.services.judged import judge_season
from trips.services.seasons import request_season
from trips.services.waiting import progress_of

# How often to look at jobs that another worker holds.
LOOK_EVERY_SECONDS = 0.5

COLUMNS = {
    "site": "site",
    "nights": "nights",
    "candidate_nights": "candidates",
    "dark_hours": "dark h",
    "moonless_hours": "moonless h",
    "usable_dark_hours": "usable dark h",
    "longest_run": "longest run",
    "best_run_first": "best run from",
    "best_run_last": "to",
    "best_run_hours": "usable h",
}


class Command(PlainCommand):
    help = (
        "Compute the nights of a season that are missing or stale, and sum up each site.\n"
        "No worker needs to run; one that runs shares the work."
    )
    example = 'example:\n  manage.py season "Season 2027" --format json'

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("name", metavar="NAME", help=_("name of the season"))
        add_organisation_option(parser)
        add_format_option(parser)

    def handle(self, **options: Any) -> None:
        season = season_named(options["name"], options["organisation"])
        jobs = request_season(season, by=None, now=timezone.now())
        if not jobs:
            self.stderr.write(_("Every night is there and up to date."))
        _work_off(jobs)
        records = [_record(found) for found in judge_season(season).view.sites]
        self.stdout.write(_rendered(records, options["format"]), ending="")


def _work_off(jobs: list[Job]) -> None:
    """Take each job that nobody holds; wait for those that another worker took first."""
    state = progress_of(jobs)
    with progress(state.total, _("night")) as bar:
        while not state.is_over:
            for job in jobs:
                working.run(job.uid, clock=timezone.now)
                state = progress_of(jobs)
                bar.update(state.done - bar.n)
            if not state.is_over:
                time.sleep(LOOK_EVERY_SECONDS)
    if state.errors:
        raise RefusalError("\n".join(state.errors))


def _record(found: SiteSeason[Site]) -> Record:
    best = found.runs[0] if found.runs else None
    return {
        "site": found.site.name,
        "nights": len(found.nights),
        "candidate_nights": found.candidates,
        "dark_hours": round(sum(night.dark_hours for night in found.nights), 3),
        "moonless_hours": round(sum(night.moonless_hours for night in found.nights), 3),
        "usable_dark_hours": round(sum(night.usable_dark_hours for night in found.nights), 3),
        "longest_run": found.longest_run,
        "best_run_first": best.first.isoformat() if best else None,
        "best_run_last": best.last.isoformat() if best else None,
        "best_run_hours": round(best.hours, 3) if best else None,
    }


def _rendered(records: list[Record], form: str) -> str:
    if form == "json":
        return as_json(records)
    return as_csv(records) if form == "csv" else as_table(records, COLUMNS)
