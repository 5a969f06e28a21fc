"""What no page may do, however it is looked at. Each breach is a sentence; a test wants none."""

from __future__ import annotations

from urllib.parse import urlsplit

from playwright.sync_api import ConsoleMessage, Error, Page, Request, Response

LOOK_MS, MOST_LOOKS = 20, 50


class Guard:
    """Listens to one page from its first request to its last."""

    def __init__(self, page: Page, origin: str, *, expected_status: int) -> None:
        self.breaches: list[str] = []
        self._page = page
        self._pending: set[Request] = set()
        self._host = urlsplit(origin).netloc
        self._expected = {200, 302, 304, expected_status}
        page.on("console", self._console)
        page.on("pageerror", self._error)
        page.on("request", self._request)
        page.on("requestfinished", self._finished)
        page.on("requestfailed", self._failed)
        page.on("response", self._response)

    def settle(self) -> None:
        """Let what is under way arrive, for a page that is closed breaks it off: the icon of a
        window's first page above all."""
        for _look in range(MOST_LOOKS):
            if self._page.is_closed() or not self._pending:
                return
            self._page.wait_for_timeout(LOOK_MS)

    def _console(self, message: ConsoleMessage) -> None:
        # A breach of the content security policy is told here too.
        wanted_failure = "status of 404" in message.text and 404 in self._expected
        if message.type in ("error", "warning") and not wanted_failure:
            self.breaches.append(f"console: {message.text}")

    def _error(self, error: Error) -> None:
        self.breaches.append(f"script: {error.message}")

    def _request(self, request: Request) -> None:
        self._pending.add(request)
        address = urlsplit(request.url)
        if address.scheme not in ("data", "blob") and address.netloc != self._host:
            self.breaches.append(f"left the host: {request.url}")

    def _finished(self, request: Request) -> None:
        self._pending.discard(request)

    def _failed(self, request: Request) -> None:
        self._pending.discard(request)
        self.breaches.append(f"failed: {request.url} ({request.failure})")

    def _response(self, response: Response) -> None:
        if response.status not in self._expected:
            self.breaches.append(f"answered {response.status}: {response.url}")
