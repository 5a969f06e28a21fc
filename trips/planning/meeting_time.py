"""When people meet for a night: the definition, without rows."""

from __future__ import annotations

from datetime import datetime, timedelta

BEFORE_SUNSET = timedelta(hours=1)
BEFORE_WANTED = timedelta(minutes=45)
SOON_AFTER_SUNSET = timedelta(hours=3)


def meeting_time(
    *, sunset: datetime | None, wanted: datetime | None, out_from: datetime
) -> datetime:
    """Give the whole minute at which people meet.

    An hour before sunset if the first wanted span starts within 3 h of it, else 45 min before
    that span. Where nothing is wanted the sunset alone decides, and without that either the hour
    from which people are out.
    """
    if wanted is None:
        return _minute(sunset - BEFORE_SUNSET if sunset else out_from)
    if sunset is not None and abs(wanted - sunset) <= SOON_AFTER_SUNSET:
        return _minute(sunset - BEFORE_SUNSET)
    return _minute(wanted - BEFORE_WANTED)


def _minute(instant: datetime) -> datetime:
    """Early rather than late: the seconds go."""
    return instant.replace(second=0, microsecond=0)
