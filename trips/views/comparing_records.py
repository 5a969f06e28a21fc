"""A row a site for a spreadsheet: plain names, ISO dates, point decimals, nothing localised.

Positions are left out: what is handed round may not say where a sensitive site is.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from trips.models import Site
from trips.planning.comparing import Compared, Month
from trips.services.judged import Gap
from trips.tabular import Cell
from trips.views.comparing_asked import key_of

COLUMNS = (
    "site",
    "usable_hours",
    "moonless_hours",
    "candidate_nights",
    "candidate_nights_offered",
    "nights_computed",
    "nights_missing",
    "nights_stale",
    "darkness_mag_per_arcsec2",
    "darkness_measured_on",
    "drive_minutes",
    "night_access",
    "permit_lead_days",
    "months_open",
    "road_closed_from",
    "road_closed_to",
    "best_run_first",
    "best_run_last",
    "best_run_hours",
)


def heading(months: Sequence[Month]) -> list[str]:
    """Give the names of the columns; two for each month."""
    kinds = ("moonless_hours", "usable_hours")
    return [*COLUMNS, *(f"{kind}_{key_of(month)}" for month in months for kind in kinds)]


def record(found: Compared[Site], months: Sequence[Month], gap: Gap | None) -> list[Cell]:
    """Give one site's cells; what is not known or not computed is left empty."""
    site, has_nights = found.site, bool(found.nights)
    best = found.best.best if found.best else None
    return [
        site.name,
        round(found.usable_hours, 2) if has_nights else None,
        round(found.moonless_hours, 2) if has_nights else None,
        found.candidates if has_nights else None,
        found.offered if has_nights else None,
        len(found.nights),
        gap.missing if gap else 0,
        gap.stale if gap else 0,
        site.sky_brightness,
        _iso(site.sky_measured_on),
        site.drive_minutes,
        site.night_access,
        site.permit_lead_days,
        " ".join(str(month) for month in site.months_open),
        _iso(site.road_closed_from),
        _iso(site.road_closed_to),
        _iso(best.first) if best else None,
        _iso(best.last) if best else None,
        round(best.hours, 2) if best else None,
        *(cell for month in months for cell in _of_month(found, month)),
    ]


def _of_month(found: Compared[Site], month: Month) -> tuple[Cell, Cell]:
    hours = found.months.get(month)
    return (round(hours.moonless, 2), round(hours.usable, 2)) if hours else (None, None)


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
