"""Whether a night is lit, then dark, at the spot that it is seen from: one line of its page."""

from __future__ import annotations

from collections.abc import Sequence

from trips.almanac.lit_then_dark_words import night_words
from trips.models import Night, Season, TargetEntry
from trips.services.lit_then_dark import tonight
from trips.views.night_spot import SeenFrom


def lit_tonight(
    row: Night, seen_from: SeenFrom, season: Season | None, entries: Sequence[TargetEntry]
) -> list[str]:
    """Give the line, or none."""
    found = tonight(row, seen_from.spot, season, entries) if seen_from.spot and season else None
    if found is None:
        return []
    target = found.entry.name if found.entry else ""
    return [night_words(found.night.found, found.landmark.name, target, seen_from.site.zone)]
