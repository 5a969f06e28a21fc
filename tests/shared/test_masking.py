"""No log shows a private link: of a page that is not there, of one that broke, of the server."""

from __future__ import annotations

import logging
import sqlite3
import subprocess
import sys
import urllib.error
import urllib.request
from contextlib import closing
from pathlib import Path

import psutil
import pytest

from shared.settings.masking import masked
from tests.trips.services_at_hand import free_port, wait_for_port
from tests.trips.stage import ROOT, Stage, kill

SECRET = "Zk3vQx81abcdEFGHijkl-_"


@pytest.mark.parametrize("door", "bcjh")
def test_a_link_is_masked_and_what_stands_around_it_is_not(door: str) -> None:
    said = f"Not Found: /{door}/{SECRET}/give-back/?look=night"
    assert masked(said) == f"Not Found: /{door}/…/give-back/?look=night"


@pytest.mark.parametrize("said", ["/sites/12/", "/static/trips/look.css", "club/nights-of-june"])
def test_other_addresses_stay_as_they_are(said: str) -> None:
    assert masked(said) == said


def test_an_exception_and_its_trace_are_masked(caplog: pytest.LogCaptureFixture) -> None:
    try:
        raise ValueError(f"no such page: b/{SECRET}/")
    except ValueError:
        logging.getLogger("some.library").exception("broke at %s, %d", f"/b/{SECRET}", 3)
    assert "broke at /b/…, 3" in caplog.text
    assert "Traceback" in caplog.text
    assert SECRET not in caplog.text


def test_a_served_404_and_500_and_the_servers_own_log_show_no_link(tmp_path: Path) -> None:
    stage = Stage(tmp_path, {"DJANGO_SETTINGS_MODULE": "shared.settings.demo"})
    port, log = free_port(), tmp_path / "server.log"
    options = ["--interface", "wsgi", "--port", str(port), "--access-log"]
    with log.open("wb") as output:
        server = subprocess.Popen(
            [sys.executable, "-m", "granian", *options, "shared.wsgi:application"],
            cwd=ROOT, env=stage.environment, stdout=output, stderr=subprocess.STDOUT,
        )  # fmt: skip
    try:
        wait_for_port(port)
        codes = [code(port, f"/{door}/{SECRET}/") for door in "bjh"]
        with closing(sqlite3.connect(tmp_path / "fieldnights.sqlite3")) as database:
            database.execute("DROP TABLE trips_enrolment")  # the next page breaks, for real
        codes += [code(port, f"/b/{SECRET}/give-back/")]
    finally:
        kill(psutil.Process(server.pid))
        server.wait()
    said = log.read_text("utf-8", "replace")
    assert codes == [404, 404, 404, 500]
    assert "Not Found: /b/…/" in said
    assert "Internal Server Error: /b/…/give-back/" in said
    assert "GET /h/…/" in said  # the server's own line
    assert SECRET not in said


def code(port: int, address: str) -> int:
    try:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}{address}", timeout=20) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as error:
        return error.code
