"""What trips and people have written down of a site: past nights, and what its months are like."""

from __future__ import annotations

from typing import Any

from django.utils.dates import MONTHS

from trips.almanac.cold import MONTH, Air, cold_of
from trips.models import Site, SiteMonth
from trips.services.night_logs import past_nights


def site_log(site: Site) -> dict[str, Any]:
    """Three queries; two where no night is written down."""
    months = [(str(MONTHS[one.month]), one, cold_of(_air(one))) for one in site.months.all()]
    return {"past_nights": past_nights(site), "months": months}


def _air(month: SiteMonth) -> Air:
    return Air(month.low_c, month.humidity_percent, month.wind_kmh, MONTH, month.source)
