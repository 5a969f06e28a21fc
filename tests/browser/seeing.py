"""Ways of looking at a page: the look, the size, with or without script."""

from __future__ import annotations

from dataclasses import dataclass, field

from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize

from tests.browser.guard import Guard
from tests.browser.pages import CROWDED, PAGES, Place
from tests.browser.serving import Served

SIZES: dict[str, ViewportSize] = {
    "desk": {"width": 1280, "height": 900},
    "phone": {"width": 390, "height": 844},
}
LOOKS = ["paper", "evening", "night", "grey"]
# Pages that wait for work look every two seconds whether it is done.
LONGER_THAN_A_LOOK_MS = 10_000


@dataclass(frozen=True, slots=True)
class Eyes:
    """Who looks, and how. No look means that the device's own scheme decides."""

    who: str = "coordinator"
    look: str | None = "paper"
    size: str = "desk"
    scheme: str = "light"
    script: bool = True
    still: bool = False


@dataclass(slots=True)
class Windows:
    """Browser windows, one for each way of looking, opened when first wanted and then shared."""

    browser: Browser
    served: Served
    contexts: dict[Eyes, BrowserContext] = field(default_factory=dict)

    def shared(self, eyes: Eyes) -> BrowserContext:
        if eyes not in self.contexts:
            self.contexts[eyes] = self.fresh(eyes)
        return self.contexts[eyes]

    def fresh(self, eyes: Eyes) -> BrowserContext:
        """Open a window that remembers nothing; the caller closes it."""
        context = self.browser.new_context(
            base_url=self.served.origin,
            viewport=SIZES[eyes.size],
            locale="en-GB",  # the browser's own time fields then show 24 hours
            color_scheme="dark" if eyes.scheme == "dark" else "light",
            java_script_enabled=eyes.script,
            reduced_motion="reduce" if eyes.still else "no-preference",
            has_touch=eyes.size == "phone",
        )
        context.set_default_timeout(5_000)
        if eyes.who != "nobody":
            self._cookie(context, "sessionid", self.served.session(eyes.who))
        if eyes.look:
            self._cookie(context, "look", eyes.look)
        return context

    def _cookie(self, context: BrowserContext, name: str, value: str) -> None:
        context.add_cookies([{"name": name, "value": value, "url": self.served.origin}])

    def close(self) -> None:
        for context in self.contexts.values():
            context.close()


@dataclass(slots=True)
class Visit:
    """Opens pages for one test, each under guard, and closes them with it."""

    windows: Windows
    opened: list[tuple[Page, Guard]] = field(default_factory=list)
    own: list[BrowserContext] = field(default_factory=list)

    def __call__(self, name: str, **way: object) -> Page:
        """Open the page of that name: `visit("season", look="night", size="phone")`."""
        place = (PAGES | CROWDED)[name]
        eyes = Eyes(**{"who": place.who, **way})  # type: ignore[arg-type]
        page = self._open(self.windows.shared(eyes), place)
        page.goto(place.address(self.windows.served.facts))
        place.prepare(page)
        return page

    def alone(self, name: str, eyes: Eyes) -> Page:
        """Open the page in a window of its own, for a test that signs in or chooses a look."""
        self.own.append(self.windows.fresh(eyes))
        page = self._open(self.own[-1], PAGES[name])
        page.goto(PAGES[name].address(self.windows.served.facts))
        return page

    def _open(self, context: BrowserContext, place: Place) -> Page:
        page = context.new_page()
        guard = Guard(page, self.windows.served.origin, expected_status=place.status)
        self.opened.append((page, guard))
        return page

    def end(self) -> list[str]:
        """Close what was opened and give every breach."""
        for page, guard in self.opened:
            guard.settle()
            page.close()
        for context in self.own:
            context.close()
        return [breach for _page, guard in self.opened for breach in guard.breaches]
