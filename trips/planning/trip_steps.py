"""Which steps lead from one status of a trip to which others. Words and needs are elsewhere."""

from __future__ import annotations

# Full and open follow from the places taken and come back to each other; the rest goes one way.
STEPS: dict[str, tuple[str, ...]] = {
    "draft": ("open", "cancelled"),
    "open": ("full", "confirmed", "cancelled"),
    "full": ("open", "confirmed", "cancelled"),
    "confirmed": ("running", "cancelled"),
    "running": ("done", "cancelled"),
    "done": (),
    "cancelled": (),
}
# People have been told of the trip, and go by what it says.
GONE_BY = ("open", "full", "confirmed", "running")
OVER = frozenset(status for status, steps in STEPS.items() if not steps)


def may_step(status: str, to: str) -> bool:
    return to in STEPS.get(status, ())
