"""What to focus on through a night, from the spot that it is seen from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from trips.almanac.focus import focus_plan
from trips.almanac.focus_words import STEPS, beginning_words, by_day_words, focus_rows
from trips.models import Night, Season
from trips.planning.hours_out import hours_out
from trips.planning.nights import Wishes
from trips.planning.stretches import Pair
from trips.views.night_spot import SeenFrom


def night_focus(
    row: Night, seen_from: SeenFrom, season: Season | None, wanted: Sequence[Pair]
) -> dict[str, Any]:
    """Give the table of stars and the ways to focus; `wanted` when the season's targets stand."""
    site, spot = seen_from.site, seen_from.spot
    out = hours_out(row, Wishes.of(season), site.zone) if season else None
    plan = focus_plan(row, site, spot, out=out, wanted=wanted)
    landmarks = list(spot.landmarks.all()) if spot else []
    return {
        "spot": spot,
        "beginning": beginning_words(plan, site.zone),
        "rows": focus_rows(plan, landmarks, site.zone),
        "steps": STEPS,
        "by_day": by_day_words(landmarks),
        "counts_fists": any(one.is_seen_at_night for one in landmarks),
    }
