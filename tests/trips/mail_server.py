"""A mail server on this machine that refuses some readers and falls silent over others (RFC 5321).

It knows no more than a letter needs, and keeps what it took as it came over the wire.
"""

from __future__ import annotations

import socketserver
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from threading import Event, Thread


@dataclass(frozen=True, slots=True)
class Taken:
    to: str
    text: bytes


class MailServer(socketserver.ThreadingTCPServer):
    """`refused` and `silent`: readers by what their address begins with."""

    daemon_threads = True
    block_on_close = False

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), _Conversation)
        self.refused: tuple[str, ...] = ()
        self.silent: tuple[str, ...] = ()
        self.taken: list[Taken] = []
        self.hanging: list[str] = []
        self.ended = Event()

    @property
    def port(self) -> int:
        return int(self.server_address[1])

    def readers(self) -> list[str]:
        return [letter.to for letter in self.taken]


class _Conversation(socketserver.StreamRequestHandler):
    server: MailServer

    def handle(self) -> None:
        self._say("220 ready")
        to = ""
        for line in self.rfile:
            match line.decode("ascii").split(":")[0].strip().upper().split():
                case ["DATA"]:
                    self._say("354 go on")
                    self.server.taken.append(Taken(to, self._text()))
                    self._say("250 taken")
                case ["QUIT"]:
                    self._say("221 bye")
                    return
                case ["RCPT", "TO"]:
                    to = line.decode("ascii").split("<")[1].split(">")[0]
                    self._answer(to)
                case _:
                    self._say("250 well")

    def _answer(self, to: str) -> None:
        if to.startswith(self.server.refused or ("\n",)):
            self._say("550 nobody of that name")
        elif to.startswith(self.server.silent or ("\n",)):
            self.server.hanging.append(to)
            self.server.ended.wait()
        else:
            self._say("250 well")

    def _text(self) -> bytes:
        return b"".join(iter(self.rfile.readline, b".\r\n"))

    def _say(self, line: str) -> None:
        self.wfile.write(f"{line}\r\n".encode("ascii"))


@contextmanager
def mail_server() -> Iterator[MailServer]:
    with MailServer() as server:
        Thread(target=server.serve_forever, args=(0.05,), daemon=True).start()
        try:
            yield server
        finally:
            server.ended.set()
            server.shutdown()
