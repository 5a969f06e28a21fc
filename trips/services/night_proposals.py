"""What new nights of a trip start from: when people meet, when it ends. Changes no rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.local_time import as_meant, clock, local
from trips.almanac.nights import compute_nights
from trips.almanac.wording import SkyError
from trips.models import Night, Site, Spot, Trip, TripNight
from trips.planning.candidates import judge
from trips.planning.hours_out import hours_out, instant_of
from trips.planning.meeting_time import meeting_time
from trips.planning.nights import Wishes
from trips.services.night_times import set_call_out
from trips.services.refusals import TripRefusedError
from trips.services.wanted import Asked, wanted_at


@dataclass(frozen=True, slots=True)
class NightPlan:
    """What the nights of a trip share. Hours are local; `until` None: as the season says."""

    spot: Spot
    second_spot: Spot | None = None
    meeting_point: str = ""
    until: time | None = None
    decision_clock: time | None = None  # on the evening's date
    decision_place: str = ""


@dataclass(frozen=True, slots=True)
class NightHours:
    meeting_at: datetime
    ends_at: datetime


def planned_nights(trip: Trip, plan: NightPlan, evenings: Sequence[date]) -> list[TripNight]:
    """Give unsaved nights of the trip, with the drive that is written down for the site.

    A date that the zone skipped is none. Errors: `SkyError` for dates that cannot be computed,
    `TripRefusedError` for a night that would be over before people meet.
    """
    site = plan.spot.site
    hours = propose_hours(site, evenings, _wishes(trip, plan))
    for day, of in hours.items():
        _refuse_end(day, of, site.zone)
        _refuse_decision(day, of, _decision(plan, day), site.zone)
    nights = [
        TripNight(
            trip=trip, date=day, spot=plan.spot, second_spot=plan.second_spot,
            meeting_at=of.meeting_at, meeting_point=plan.meeting_point, ends_at=of.ends_at,
            drive_minutes=site.drive_minutes or 0,
            decision_at=_decision(plan, day), decision_place=plan.decision_place,
        )
        for day, of in hours.items()
    ]  # fmt: skip
    for night in nights:
        set_call_out(night, trip)
    return nights


def _refuse_end(day: date, of: NightHours, zone: str) -> None:
    if of.ends_at <= of.meeting_at:
        words = _("On %(night)s people meet at %(meeting)s: the night cannot end at %(end)s.")
        told = {
            "night": date_format(day, "j F"),
            "meeting": clock(of.meeting_at, zone),
            "end": clock(of.ends_at, zone),
        }
        raise TripRefusedError(words % told)


def _refuse_decision(day: date, of: NightHours, decision_at: datetime | None, zone: str) -> None:
    if decision_at and decision_at >= of.meeting_at:
        words = _("On %(night)s people meet at %(meeting)s: decide before that whether you go.")
        told = {"night": date_format(day, "j F"), "meeting": clock(of.meeting_at, zone)}
        raise TripRefusedError(words % told)


def next_night(trip: Trip) -> TripNight:
    """Give an unsaved night like the trip's last one, on the evening after it.

    Errors: `TripRefusedError` where that evening cannot be computed.
    """
    *_before, last = trip.nights.select_related("spot__site", "second_spot")
    zone = last.spot.site.zone
    plan = NightPlan(
        last.spot,
        last.second_spot,
        last.meeting_point,
        until=local(last.ends_at, zone).time(),
        decision_place=last.decision_place,
    )
    try:
        night = planned_nights(trip, plan, [last.date + timedelta(days=1)])[0]
    except (SkyError, IndexError) as error:
        words = _("The evening after the last one cannot be computed: add none there.")
        raise TripRefusedError(words) from error
    night.decision_at = _a_day_later(last.decision_at, zone) if last.decision_at else None
    night.meeting_latitude, night.meeting_longitude = last.meeting_latitude, last.meeting_longitude
    return night


def _a_day_later(at: datetime, zone: str) -> datetime:
    """Give the same hour of the clock on the day after."""
    then = local(at, zone).replace(tzinfo=None)
    return as_meant(then + timedelta(days=1), zone)


def _wishes(trip: Trip, plan: NightPlan) -> Wishes:
    """Wish what the season does, for the trip's own targets and as long as planned."""
    wishes = replace(
        Wishes.of(trip.season) if trip.season else Wishes(), target_list=trip.target_list_id
    )
    return replace(wishes, out_until=plan.until) if plan.until else wishes


def _decision(plan: NightPlan, day: date) -> datetime | None:
    if plan.decision_clock is None:
        return None
    return as_meant(datetime.combine(day, plan.decision_clock), plan.spot.site.zone)


def propose_hours(site: Site, evenings: Sequence[date], wishes: Wishes) -> dict[date, NightHours]:
    """Give the hours of each evening, its meeting time by the definition and the end of the
    hours out. A date that the zone skipped has none.

    What is wanted is seen from the site's first spot; where its windows are not stored, the
    moonless dark is wanted. Errors: `SkyError` for dates that cannot be computed.
    """
    return {row.date: _hours(row, wishes) for row in _nights(site, evenings)}


def _nights(site: Site, evenings: Sequence[date]) -> list[Night]:
    """Read the nights that are stored and fresh; compute the others."""
    stored = Night.objects.filter(site=site, date__in=evenings).fresh(site_fingerprint(site))
    rows = {row.date: row for row in stored.select_related("site")}
    missing = sorted(set(evenings) - set(rows))
    if missing:
        rows |= {row.date: row for row in compute_nights(site, missing[0], missing[-1])}
    return [rows[evening] for evening in sorted(set(evenings)) if evening in rows]


def _hours(row: Night, wishes: Wishes) -> NightHours:
    zone = row.site.zone
    out_from, _until = hours_out(row, wishes, zone)
    meeting_at = meeting_time(
        sunset=row.sunset, wanted=_first_wanted(row, wishes), out_from=_at(out_from)
    )
    return NightHours(meeting_at, _at(instant_of(row.date, wishes.out_until, zone)))


def _first_wanted(row: Night, wishes: Wishes) -> datetime | None:
    asked = wishes.target_list and Asked(wishes.target_list, row.date, row.date, wishes.dark_level)
    wanted = wanted_at([row.site], asked)[row.site] if asked else None
    spans = wanted.spans if wanted and wanted.spans else None
    pieces = judge(row, wishes, row.site.zone, wanted=spans).counted_out
    return _at(pieces[0][0]) if pieces else None


def _at(seconds: float) -> datetime:
    return datetime.fromtimestamp(seconds, UTC)
