"""Forms of a page as a browser would send them, for tests that press buttons."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

Typed = dict[str, list[str]]
TICKED = ("checkbox", "radio")


@dataclass(slots=True)
class Form:
    action: str
    sent: Typed = field(default_factory=dict)

    def add(self, name: str | None, value: str | None) -> None:
        if name:
            self.sent.setdefault(name, []).append(value or "")


class _Forms(HTMLParser):
    """Reads what each form holds: hidden numbers and versions, ticked boxes, chosen options."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[Form] = []
        self.select: str | None = None
        self.options: list[tuple[str, bool]] = []
        self.area: str | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag == "form":
            self.found.append(Form(said.get("action") or ""))
        elif tag == "select":
            self.select, self.options = said.get("name"), []
        elif tag == "option":
            self.options.append((said.get("value") or "", "selected" in said))
        elif tag == "textarea":
            self.area = said.get("name")
            self._of_form(self.area, "")
        elif tag == "input" and _is_sent(said):
            unsaid = "on" if said.get("type") in TICKED else ""
            self._of_form(said.get("name"), said.get("value", unsaid))

    def handle_endtag(self, tag: str) -> None:
        if tag == "select" and self.options:
            chosen = [value for value, is_chosen in self.options if is_chosen]
            self._of_form(self.select, (chosen or [self.options[0][0]])[0])
        elif tag == "textarea":
            self.area = None

    def handle_data(self, data: str) -> None:
        if self.area and self.found:
            self.found[-1].sent[self.area][-1] += data.removeprefix("\n")

    def _of_form(self, name: str | None, value: str | None) -> None:
        if self.found:
            self.found[-1].add(name, value)


def _is_sent(said: dict[str, str | None]) -> bool:
    if said.get("type") in TICKED:
        return "checked" in said
    return said.get("type") not in ("submit", "button", "file", "image")


def form_on(html: str, path: str) -> Typed:
    """Give what the form that is sent to this address would send; a page's own form names none."""
    reader = _Forms()
    reader.feed(html)
    addressed = (form for form in reader.found if (form.action or path).split("?")[0] == path)
    return next(addressed).sent
