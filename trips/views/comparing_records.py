"""A row a site for a spreadsheet: plain names, ISO dates, point decimals, nothing localised.

Positions are left out: what is handed round may not say where a sensitive site is.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from trips.almanac.local_sky import estimated_mag
from trips.forms.fields import DAY_NAMES
from trips.models import Season, Site
from trips.planning.comparing import Compared, Month
from trips.services.judged import Gap
from trips.tabular import Cell
from trips.views.comparing_asked import key_of

# With a list of targets its hours come first, and usable ones are of the dark without it.
HOURS = {
    False: ("usable_hours", "usable_hours_only_here"),
    True: ("target_hours", "target_hours_only_here", "usable_hours"),
}
OF_MONTH = {
    False: ("moonless_hours", "usable_hours"),
    True: ("moonless_hours", "usable_hours", "target_hours"),
}
COLUMNS = (
    "moonless_hours",
    "usable_dark_hours_overhead",
    "candidate_nights",
    "candidate_nights_offered",
    "nights_computed",
    "nights_missing",
    "nights_stale",
    "target_windows_missing",
    "darkness_mag_per_arcsec2",
    "darkness_measured_on",
    "darkness_estimated_mag_per_arcsec2",
    "drive_minutes",
    "elevation_m",
    "vehicle",
    "largest_group",
    "night_access",
    "permit",
    "permit_lead_days",
    "months_open",
    "road_closed_from",
    "road_closed_to",
    "best_run_first",
    "best_run_last",
    "best_run_hours",
)
# What is asked of every night, the same in each row: figures on paper outlive the page.
WISHES = (
    "wished_out_from",
    "wished_out_until",
    "wished_most_hours_out",
    "wished_least_hours",
    "wished_dark_level_degrees",
    "wished_run_length",
    "wished_weekdays",
    "wished_avoid",
    "wished_targets",
)


def heading(months: Sequence[Month], *, by_targets: bool) -> list[str]:
    """Give the names of the columns; two for each month, or three with a list of targets."""
    kinds = OF_MONTH[by_targets]
    of_months = (f"{kind}_{key_of(month)}" for month in months for kind in kinds)
    return ["site", *HOURS[by_targets], *COLUMNS, *of_months, *WISHES]


def record(
    found: Compared[Site],
    months: Sequence[Month],
    gap: Gap | None,
    alone: float | None,
    *,
    by_targets: bool,
) -> list[Cell]:
    """Give one site's cells but the wishes; what is not known or not computed is left empty."""
    site, has_nights = found.site, bool(found.nights)
    best = found.best.best if found.best else None
    return [
        site.name,
        round(found.usable_hours, 2) if has_nights else None,
        round(alone, 2) if has_nights and alone is not None else None,
        *([round(found.moonless_usable_hours, 2) if has_nights else None] if by_targets else []),
        round(found.moonless_hours, 2) if has_nights else None,
        round(found.usable_dark_hours, 2) if has_nights else None,
        found.candidates if has_nights else None,
        found.offered if has_nights else None,
        len(found.nights),
        gap.missing if gap else 0,
        gap.stale if gap else 0,
        gap.windows if gap else 0,
        site.sky_brightness,
        _iso(site.sky_measured_on),
        estimated_mag(site) if site.sky_brightness is None else None,
        site.drive_minutes,
        site.elevation_m,
        site.vehicle,
        site.largest_group,
        site.night_access,
        _permit(site),
        site.permit_lead_days,
        " ".join(str(month) for month in site.months_open),
        _iso(site.road_closed_from),
        _iso(site.road_closed_to),
        _iso(best.first) if best else None,
        _iso(best.last) if best else None,
        round(best.hours, 2) if best else None,
        *(cell for month in months for cell in _of_month(found, month, by_targets=by_targets)),
    ]


def wishes_written(season: Season) -> list[Cell]:
    """Give what is wished of every night; no hour to begin at means civil dusk, no list of targets
    the moonless dark."""
    return [
        f"{season.out_from:%H:%M}" if season.out_from else "civil dusk",
        f"{season.out_until:%H:%M}",
        season.most_hours_out,
        season.least_hours,
        season.dark_level,
        season.run_length,
        " ".join(DAY_NAMES[day] for day in sorted(season.weekdays)),
        " ".join("/".join(stretch) for stretch in season.avoid),
        season.target_list.name if season.target_list else None,
    ]


def _permit(site: Site) -> str | None:
    """Say whether a permit that is needed has a number; None where none is needed, or unknown."""
    if site.night_access != Site.Access.PERMIT:
        return None
    return "held" if site.permit_number else "to ask"


def _of_month(found: Compared[Site], month: Month, *, by_targets: bool) -> list[Cell]:
    hours = found.months.get(month)
    if hours is None:
        return [None] * len(OF_MONTH[by_targets])
    dark = [hours.moonless_usable] if hours.moonless_usable is not None else []
    return [round(each, 2) for each in (hours.moonless, *dark, hours.usable)]


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
