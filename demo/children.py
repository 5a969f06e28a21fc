"""The demo's child processes: started together, ended together, whatever happens in between."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from contextlib import AbstractContextManager, suppress
from pathlib import Path
from types import TracebackType

PATIENCE_SECONDS = 10
MOST_PORTS_TRIED = 50


class Child(AbstractContextManager["Child"]):
    """A Python module run as a child in a session of its own, so that all of it can be ended."""

    def __init__(self, *arguments: str, log: Path) -> None:
        self.log = log
        with log.open("ab") as output:
            self.process = subprocess.Popen(  # noqa: S603 - our own modules, no shell
                [sys.executable, "-m", *arguments],
                stdout=output,
                stderr=subprocess.STDOUT,
                stdin=subprocess.DEVNULL,
                # Ctrl-C reaches the parent alone, which then ends its children in order.
                start_new_session=True,
            )

    def is_running(self) -> bool:
        return self.process.poll() is None

    def last_words(self) -> str:
        lines = self.log.read_text("utf-8", "replace").splitlines()
        return lines[-1] if lines else ""

    def end(self) -> None:
        """Ask it to end; after some patience, end its whole group."""
        if self.is_running():
            self.process.terminate()
        try:
            with suppress(subprocess.TimeoutExpired):
                self.process.wait(PATIENCE_SECONDS)
        finally:
            self._end_group()

    def _end_group(self) -> None:
        # Usually nobody of it is left.
        with suppress(ProcessLookupError):
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.end()


def start_worker(folder: Path) -> Child:
    """Start a worker with the beat inside, which is all that the file broker needs."""
    return Child(
        *("celery", "-A", "shared", "worker", "-B", "-P", "threads", "-c", "2", "-l", "INFO"),
        *("--without-gossip", "--without-mingle", "--without-heartbeat"),
        log=folder / "worker.log",
    )


def start_server(folder: Path, port: int) -> Child:
    return Child(
        *("granian", "--interface", "wsgi", "--host", "127.0.0.1", "--port", str(port)),
        *("--blocking-threads", "1", "shared.wsgi:application"),
        log=folder / "server.log",
    )


def free_port(wanted: int) -> int:
    """Give the wanted port of this machine, or the next one that nobody holds."""
    for port in range(wanted, wanted + MOST_PORTS_TRIED):
        with socket.socket() as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                trial.bind(("127.0.0.1", port))
            except OSError:
                continue
            return port
    raise OSError(f"ports {wanted} to {wanted + MOST_PORTS_TRIED - 1} are all taken")


def wait_until_listening(server: Child, port: int) -> None:
    """Return when the port answers; errors: `OSError` with the server's last words."""
    until = time.monotonic() + PATIENCE_SECONDS * 3
    while time.monotonic() < until and server.is_running():
        with socket.socket() as trial:
            if trial.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.1)
    raise OSError(f"the server does not answer: {server.last_words()}")
