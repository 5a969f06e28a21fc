"""`manage.py pictures`: the README's pictures, taken of the demo club's pages as they are now."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import CommandError, call_command
from django.core.management.base import BaseCommand, CommandParser
from django.urls import reverse
from django.utils import timezone

from demo import children
from demo.briefs import pages_of, publish_briefs, published_night
from demo.links import make_link_token
from demo.loading import load_club, organiser
from demo.photographing import NoCameraError, Sight, find_camera, take
from trips.models import Job, Season, Site
from trips.services import working

FOLDER = Path(__file__).resolve().parents[2] / "pictures"
FIRST_PORT = 8090
SITE, EVENING = "Juniper Threshing Floor", date(2027, 7, 3)
# After the people of a brief have met: what is now then stands first.
AFTER_MEETING = timedelta(hours=4)


class Command(BaseCommand):
    help = (
        "Take the README's three pictures of the demo club, with Chromium and the development "
        "installation. Example: manage.py pictures --folder /tmp/pictures"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--folder", type=Path, default=FOLDER, help="where to (demo/pictures)")

    def handle(self, *, folder: Path, **_options: Any) -> None:
        try:
            program = find_camera()
        except NoCameraError as error:
            raise CommandError(str(error)) from error
        sights = _sights(_whole_season())
        link = make_link_token(organiser(), settings.DATA_FOLDER / "sign-in", now=timezone.now())
        folder.mkdir(parents=True, exist_ok=True)
        port = children.free_port(FIRST_PORT)
        with children.start_server(settings.DATA_FOLDER, port) as server:
            children.wait_until_listening(server, port)
            sign_in = f"http://127.0.0.1:{port}" + reverse("demo_sign_in", args=[link])
            taken = take(program, sign_in, sights, folder)
        for path in taken:
            self.stdout.write(f"{path}  {path.stat().st_size / 1000:.0f} kB")


def _whole_season() -> Season:
    """Load the demo club and compute here what is not computed yet."""
    call_command("migrate", interactive=False, verbosity=0)
    season = load_club(now=timezone.now())
    for job in Job.objects.open().filter(site__in=season.sites.all()):
        working.run(job.uid, clock=timezone.now)
    publish_briefs(by=organiser(), now=timezone.now())
    return season


def _sights(season: Season) -> list[Sight]:
    site = Site.objects.current().get(organisation=season.organisation, name=SITE)
    season_page = reverse("season_detail", args=[season.pk]) + f"?site={site.pk}"
    night_page = reverse("night_detail", args=[site.pk, EVENING])
    return [
        Sight("season", season_page, "paper", width=1280, down_to="figure.chart"),
        Sight("night", night_page, "night", width=390, down_to="main figure"),
        *_brief(),
    ]


def _brief() -> Iterator[Sight]:
    """A person's own brief in the field; none once the demo's nights are over."""
    night = published_night()
    if night is not None:
        _name, page = next(pages_of(night))
        at = night.meeting_at + AFTER_MEETING
        yield Sight("brief", page, "night", width=390, down_to="article.target .direction", at=at)
