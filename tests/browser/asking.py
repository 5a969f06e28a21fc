"""Questions to a page that no eye is needed for: axe-core's, and our own measures."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

HERE = Path(__file__).parent
AXE = (HERE / "axe/axe.min.js").read_text("utf-8")
MEASURES = (HERE / "measures.js").read_text("utf-8")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
COLOUR_RULES = ["color-contrast", "link-in-text-block"]

# Rows after the fifth of a table are made as those before: the long tables take axe seconds.
REPEATED = "tbody tr:nth-child(n + 6)"

CONTROLS = "button, .button, select, summary, textarea, input:not([type=hidden])"
PRESSED = f"a[href], {CONTROLS}"


def axe(page: Page, *, colours_only: bool = False) -> list[str]:
    """Give what axe-core finds serious or critical, a sentence for each place."""
    kind, values = ("rule", COLOUR_RULES) if colours_only else ("tag", RULES)
    options = {"runOnly": {"type": kind, "values": values}, "resultTypes": ["violations"]}
    page.evaluate(AXE)
    found = page.evaluate(
        "([repeated, options]) => axe.run({ exclude: [repeated] }, options)", [REPEATED, options]
    )
    return [
        f"{rule['id']}: {_place(node)}"
        for rule in found["violations"]
        if rule["impact"] in ("serious", "critical")
        for node in rule["nodes"]
    ]


def _place(node: dict[str, Any]) -> str:
    why = str(node.get("failureSummary", "")).splitlines()
    return f"{node['html'][:120]} ({' '.join(line.strip() for line in why[1:])[:160]})"


def measure(page: Page, name: str, *values: Any) -> list[str]:
    """Ask measures.js; an empty list means that nothing is wrong."""
    answer = page.evaluate(f"values => ({MEASURES}).{name}(...values)", list(values))
    return [f"{name}: {sentence}" for sentence in answer]
