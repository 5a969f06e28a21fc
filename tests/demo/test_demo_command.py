"""`manage.py demo` from nothing, with its real worker and server."""

from __future__ import annotations

import os
import re
import select
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import psutil
import pytest
from django.core.management import CommandError, call_command

from demo import club
from tests.trips.services_at_hand import free_port
from tests.trips.stage import ROOT, kill
from trips.models import Organisation

# In one process: what ran once is looked at by several tests.
pytestmark = [pytest.mark.kill, pytest.mark.xdist_group("demo")]

PATIENCE_SECONDS = 120


def environment(folder: Path) -> dict[str, str]:
    left_out = {"DJANGO_SETTINGS_MODULE", "DATABASE_URL", "FIELDNIGHTS_BROKER_URL"}
    kept = {key: value for key, value in os.environ.items() if key not in left_out}
    return kept | {"FIELDNIGHTS_DATA": str(folder), "PYTHONUNBUFFERED": "1"}


def once(folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "manage.py", "demo", "--once"],
        cwd=ROOT,
        env=environment(folder),
        capture_output=True,
        text=True,
        timeout=PATIENCE_SECONDS,
        check=False,
    )


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the data folder of a demo that ran once."""
    return tmp_path_factory.mktemp("demo") / "data"


@pytest.fixture(scope="module")
def first_run(folder: Path) -> subprocess.CompletedProcess[str]:
    return once(folder)


def test_it_prints_nights_and_runs_of_every_site(
    first_run: subprocess.CompletedProcess[str],
) -> None:
    assert first_run.returncode == 0, first_run.stderr
    for site in club.SITES:
        said = re.search(rf"{site['name']}: (\d+) candidate nights of 365", first_run.stdout)
        assert said, first_run.stdout
        assert int(said[1]) > 0
    assert first_run.stdout.count("run of 2027-") == 3 * len(club.SITES)
    assert "missing" not in first_run.stdout


def test_it_shows_progress_beside_the_answer_and_not_in_it(
    first_run: subprocess.CompletedProcess[str],
) -> None:
    # A year of nights at each of six sites, and of what is wanted on each of them.
    assert "4380/4380" in first_run.stderr
    assert "4380" not in first_run.stdout


def test_its_folder_and_keys_are_for_their_owner_alone(
    first_run: subprocess.CompletedProcess[str], folder: Path
) -> None:
    assert folder.stat().st_mode & 0o777 == 0o700
    for name in ("secret-key", "link-key"):
        assert (folder / name).stat().st_mode & 0o777 == 0o600


def test_running_it_again_reuses_what_is_there(
    first_run: subprocess.CompletedProcess[str], folder: Path
) -> None:
    again = once(folder)
    assert again.stdout == first_run.stdout
    assert "4380" not in again.stderr


@pytest.fixture
def taken_port() -> Iterator[int]:
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", free_port()))
        holder.listen()
        yield int(holder.getsockname()[1])


@pytest.mark.django_db
@pytest.mark.parametrize("port", ["0", "65536"])
def test_a_port_that_cannot_be_is_refused_before_anything_is_done(port: str) -> None:
    with pytest.raises(CommandError, match="a port is a number from 1 to 65535"):
        call_command("demo", "--port", port)
    assert not Organisation.objects.exists()


@pytest.mark.parametrize("end", [signal.SIGINT, signal.SIGTERM])
def test_it_serves_beside_a_taken_port_and_leaves_no_child_when_ended(
    first_run: subprocess.CompletedProcess[str], folder: Path, taken_port: int, end: signal.Signals
) -> None:
    command = [sys.executable, "manage.py", "demo", "--port", str(taken_port)]
    with subprocess.Popen(
        command,
        cwd=ROOT,
        env=environment(folder),
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    ) as process:
        try:
            said = read_until(process, b"Ctrl-C")
            children = psutil.Process(process.pid).children(recursive=True)
            process.send_signal(end)
            process.wait(PATIENCE_SECONDS)
        finally:
            if process.poll() is None:
                kill(psutil.Process(process.pid))
    assert f"Port {taken_port} is taken" in said
    assert re.search(r"http://127\.0\.0\.1:\d+/demo/sign-in/\S{40,}/", said)
    assert len(children) >= 2
    assert not [child for child in children if still_runs(child)]


def still_runs(child: psutil.Process) -> bool:
    """Tell whether it runs; one that has ended may wait for the machine's first process to see."""
    try:
        return bool(child.is_running() and child.status() != psutil.STATUS_ZOMBIE)
    except psutil.NoSuchProcess:
        return False


def read_until(process: subprocess.Popen[bytes], mark: bytes) -> str:
    assert process.stdout
    said, until = b"", time.monotonic() + PATIENCE_SECONDS
    while mark not in said:
        ready, _writable, _failed = select.select([process.stdout], [], [], 1)
        piece = os.read(process.stdout.fileno(), 65_536) if ready else b""
        said += piece
        assert piece or not ready, f"it ended after saying {said!r}"
        assert time.monotonic() < until, f"it only said {said!r}"
    return said.decode()
