"""Rise and set of a planet (A06: Venus at Boston, Meeus ex. 15.a)."""

from __future__ import annotations

from datetime import date, datetime

from sky.nights import risings_and_settings
from sky.place import Place
from tests.against.published import row


def test_venus_rises_and_sets_when_the_book_says() -> None:
    case = row("risings", "A06")
    inputs = case["inputs"]
    boston = Place(inputs["latitude"], inputs["longitude"], inputs["elevation_m"], inputs["zone"])
    risings, settings = risings_and_settings(
        inputs["body"],
        boston,
        date.fromisoformat(inputs["first"]),
        date.fromisoformat(inputs["last"]),
    )
    assert nearest(risings, case["expected"]["rising"]) <= case["tolerance"]
    assert nearest(settings, case["expected"]["setting"]) <= case["tolerance"]


def nearest(ours: list[datetime], written: str) -> float:
    published = datetime.fromisoformat(written)
    return min(abs((instant - published).total_seconds()) for instant in ours)
