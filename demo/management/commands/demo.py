"""`manage.py demo`: the invented club on this machine, from nothing to pages."""

from __future__ import annotations

import os
import signal
import time
from contextlib import ExitStack
from itertools import chain
from pathlib import Path
from types import FrameType
from typing import Any

from django.conf import settings
from django.core.management import CommandError, call_command
from django.core.management.base import BaseCommand, CommandParser
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from tqdm import tqdm

from demo import children
from demo.briefs import publish_briefs, tell_briefs
from demo.letters import LetterBox
from demo.links import forget_link_tokens, make_link_token
from demo.loading import load_club, organiser
from demo.telling import tell_season
from trips.models import Job, Season
from trips.services.judged import judge_season
from trips.services.waiting import Progress, progress_of

LOOK_EVERY_SECONDS = 0.2
LONGEST_WAIT_SECONDS = 900


class Command(BaseCommand):
    help = (
        "Load an invented club, compute its season with a real worker, print the best nights and "
        "serve the pages on this machine. Example: manage.py demo --once"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--once", action="store_true", help="stop after printing")
        parser.add_argument("--port", type=int, default=8000, help="first port to try (8000)")

    def handle(self, *, once: bool, port: int, **_options: Any) -> None:
        if not 1 <= port <= 65_535:
            raise CommandError(
                _("--port %(port)d: a port is a number from 1 to 65535.") % {"port": port}
            )
        signal.signal(signal.SIGTERM, _interrupt)  # ended from outside, the children end too
        try:
            self._show(once=once, port=port)
        except KeyboardInterrupt:
            self.stderr.write(_("Ended. The next start reuses what is there."))

    def _show(self, *, once: bool, port: int) -> None:
        folder: Path = settings.DATA_FOLDER
        call_command("migrate", interactive=False, verbosity=0)
        season = load_club(now=timezone.now())
        if not once:
            port = self._free_port(port)
            # The worker's letters lead to the pages that this demo serves.
            os.environ["FIELDNIGHTS_ADDRESS"] = f"http://127.0.0.1:{port}"
        with ExitStack() as running:
            worker = running.enter_context(children.start_worker(folder))
            self._wait_for(season, worker)
            publish_briefs(by=organiser(), now=timezone.now())
            told = tell_season(season, judge_season(season))
            for line in chain(told, tell_briefs(f"http://127.0.0.1:{port}")):
                self.stdout.write(line)
            if not once:
                self._serve(running, worker, folder, port)

    def _wait_for(self, season: Season, worker: children.Child) -> None:
        jobs = list(Job.objects.open().filter(site__in=season.sites.all()))
        progress = progress_of(jobs)
        with tqdm(total=progress.total, unit=_("step"), desc=season.name) as bar:
            until = time.monotonic() + LONGEST_WAIT_SECONDS
            while not progress.is_over:
                _refuse_dead(worker, until)
                time.sleep(LOOK_EVERY_SECONDS)
                progress = progress_of(jobs)
                bar.update(progress.done - bar.n)
        _refuse_failed(progress)

    def _free_port(self, wanted: int) -> int:
        port = children.free_port(wanted)
        if port != wanted:
            self.stdout.write(
                _("Port %(wanted)d is taken; using %(port)d.") % {"wanted": wanted, "port": port}
            )
        return port

    def _serve(self, running: ExitStack, worker: children.Child, folder: Path, port: int) -> None:
        server = running.enter_context(children.start_server(folder, port))
        children.wait_until_listening(server, port)
        self._tell_addresses(folder, f"http://127.0.0.1:{port}")
        letters = LetterBox(folder / "mail")
        while server.is_running() and worker.is_running():
            for line in letters.new_lines():
                self.stdout.write(line)
            self.stdout.flush()
            time.sleep(LOOK_EVERY_SECONDS)
        ended = server if worker.is_running() else worker
        raise CommandError(_("A child ended by itself; see %s.") % ended.log)

    def _tell_addresses(self, folder: Path, address: str) -> None:
        links = folder / "sign-in"
        forget_link_tokens(links)
        token = make_link_token(organiser(), links, now=timezone.now())
        self.stdout.write("")
        self.stdout.write(_("The pages: %s/") % address)
        self.stdout.write(
            _("Sign in as the organiser (once, within ten minutes): %s")
            % (address + reverse("demo_sign_in", args=[token]))
        )
        self.stdout.write(_("Letters go to nobody: they are shown here."))
        self.stdout.write(_("Ctrl-C ends the demo."))
        self.stdout.flush()


def _refuse_dead(worker: children.Child, until: float) -> None:
    if not worker.is_running():
        raise CommandError(
            _("The worker ended: %(words)s (all of it: %(log)s)")
            % {"words": worker.last_words(), "log": worker.log}
        )
    if time.monotonic() > until:
        raise CommandError(_("The season is not ready after a long wait; see %s.") % worker.log)


def _refuse_failed(progress: Progress) -> None:
    if progress.errors:
        raise CommandError("\n".join(progress.errors))


def _interrupt(_signal: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt
