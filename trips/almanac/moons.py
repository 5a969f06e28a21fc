"""New Moons, which part a season into lunations, and full ones, which with them make springs."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from sky import phases
from sky.clock import FIRST_DAY, LAST_DAY

# A run near the end of a season may belong to a new Moon just outside it.
HALF_A_LUNATION = timedelta(days=15)
A_WEEK = timedelta(days=7)


def new_moons(first: date, last: date) -> list[datetime]:
    """Give the new Moons of a season and of half a lunation on either side, in UTC."""
    return phases.new_moons(
        max(FIRST_DAY, first - HALF_A_LUNATION), min(LAST_DAY, last + HALF_A_LUNATION)
    )


def spring_moons(first: date, last: date) -> dict[datetime, str]:
    """Give the new and full Moons from a week before to a week after those dates, in UTC."""
    around = phases.moon_phases(max(FIRST_DAY, first - A_WEEK), min(LAST_DAY, last + A_WEEK))
    return {phase.instant: phase.kind for phase in around if phase.kind in ("new", "full")}
