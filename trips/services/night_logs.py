"""What a night was like, written down afterwards; and the log of a site that comes of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _

from trips.almanac.readings import night_holding
from trips.models import DarknessReading, Enrolment, Site, Spot, Tick, TripNight, User
from trips.services.editing import save_edited
from trips.services.night_times import spot_decided
from trips.services.refusals import TripRefusedError
from trips.services.trip_history import note

LOG = frozenset({"oktas", "clear_hours", "came", "log_note", "logged_at", "logged_by"})
MOST_SHOWN = 60


@dataclass(frozen=True, slots=True)
class PastNight:
    """`zenith_mag`: the darkest reading at the zenith in the site's log of darkness that night."""

    night: TripNight
    spot: Spot
    zenith_mag: float | None


@transaction.atomic
def save_log(night: TripNight, *, by: User, now: datetime) -> None:
    """Save what the log says of a night that has begun.

    Errors: `TripRefusedError`, `EditedMeanwhileError`.
    """
    if now < night.meeting_at:
        raise TripRefusedError(_("This night has not begun: write its log when it is over."))
    night.logged_at, night.logged_by = now, by
    save_edited(night, only=LOG)
    note(night.trip, "logged", at=now, by=by, night=night.pk, date=f"{night.date}")


def came_to(night: TripNight) -> int | None:
    """Count the participants whom the head count has seen; None where nobody was counted."""
    last: dict[int, str] = {}
    for tick in night.ticks.exclude(enrolment=None).order_by("at", "pk"):
        last[tick.enrolment_id] = tick.kind
    if not last:
        return None
    return sum(kind != Tick.Kind.NOT_HERE for kind in last.values())


def expected_at(night: TripNight) -> int:
    placed = Enrolment.objects.filter(trip=night.trip_id, state=Enrolment.State.PLACED)
    return int(placed.count())


def past_nights(site: Site) -> list[PastNight]:
    """Give the nights at the site that have a log, the newest first. Two queries."""
    moved = Q(decision=TripNight.Decision.SECOND)
    here = (moved & Q(second_spot__site=site)) | (~moved & Q(spot__site=site))
    logged = TripNight.objects.filter(here, logged_at__isnull=False).order_by("-date")
    nights = list(logged.select_related("trip", "spot__site", "second_spot__site")[:MOST_SHOWN])
    darkest = _darkest_by_night(site) if nights else {}
    return [PastNight(one, spot_decided(one), darkest.get(one.date)) for one in nights]


def readings_of(night: TripNight) -> list[DarknessReading]:
    """Give what the site's log of darkness has of the night, in order."""
    site = spot_decided(night).site
    readings = DarknessReading.objects.filter(site=site).order_by("at")
    return [one for one in readings if night_holding(one.at, site.zone) == night.date]


def _darkest_by_night(site: Site) -> dict[object, float]:
    found: dict[object, float] = {}
    zenith = DarknessReading.objects.filter(site=site, azimuth_degrees=None)
    for reading in zenith:
        evening = night_holding(reading.at, site.zone)
        found[evening] = max(reading.magnitude, found.get(evening, 0.0))
    return found
