"""The safety part of a trip's board, and the page of one night with all that goes with it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from trips.models import Hazard, Letter, Site, SiteMonth, TideTime, TripInstructor, TripNight
from trips.planning.cold_advice import advice
from trips.services.call_outs_told import letters_in_trouble
from trips.services.cars import cars_of
from trips.services.cautions import Caution, cautions
from trips.services.closing import is_watched
from trips.services.emergency import whom_to_call
from trips.services.leading import who_may
from trips.services.letter_kinds.call_outs import CALL_OUTS
from trips.services.night_cold import cold_of_night
from trips.services.night_logs import readings_of
from trips.services.night_times import spot_decided
from trips.services.planned_trip import TripRows, hazards_of, warnings_of
from trips.services.silence import silence
from trips.services.tides import is_coast, lacking, spring_words
from trips.services.who_is_out import heads_of
from trips.views.board import Board, board_of
from trips.views.members import trip_night_of


@dataclass(frozen=True, slots=True)
class SafeNight:
    """A night as its safety is told. `lacks` names what a coast still wants before it is
    confirmed, `spring` says that its tides are large; `rule` is what silence means now;
    `trouble` says that call-out letters do not go."""

    night: TripNight
    rule: str
    is_coast: bool
    tides: Sequence[TideTime]
    lacks: Sequence[str]
    spring: str
    is_watched: bool
    is_overdue: bool
    trouble: str
    has_begun: bool

    @property
    def zone(self) -> str:
        return str(self.night.spot.site.zone)

    @property
    def whom_to_call(self) -> str:
        return whom_to_call(spot_decided(self.night).site)


@dataclass(frozen=True, slots=True)
class SiteCautions:
    """`unknown`: nobody has written down a danger there."""

    site: Site
    cautions: Sequence[Caution]
    unknown: bool


def safety_part(board: Board) -> dict[str, Any]:
    """Two queries, one more while a night is overdue."""
    rows = _rows(board)
    return {
        "safe_nights": _safe_nights(board.nights, board.instructors, board.now),
        "trip_warnings": warnings_of(rows),
        "site_cautions": _by_site(board.nights, rows.hazards),
        "without_phone": [one for one in board.instructors if not one.phone],
        "trip_cars": rows.cars,
        "seats": sum(car.seats for car in rows.cars),
        "who_may": _who_may(board),
    }


@require_safe
@login_required
def trip_night_safety(request: HttpRequest, night_id: int) -> HttpResponse:
    night = trip_night_of(request, night_id)
    board = board_of(request, night.trip)
    rows = _rows(board)
    safe = _safe_nights([night], board.instructors, board.now)[0]
    cold = cold_of_night(night, SiteMonth.objects.filter(site=spot_decided(night).site_id))
    context = {
        "board": board,
        "who_may": _who_may(board),
        "trip": night.trip,
        "night": night,
        "safe": safe,
        "spot": spot_decided(night),
        "instructors": board.instructors,
        "cold": cold,
        "to_do": advice(cold, cold.air.air_c if cold else None),
        "warnings": [one for one in warnings_of(rows) if one.night == night.date],
        "site_cautions": _by_site([night], rows.hazards),
        "heads": heads_of(night),
        "letters": Letter.objects.filter(night=night, kind__in=CALL_OUTS, sent_at__isnull=False),
        "readings": readings_of(night) if night.logged_at else (),
    }
    return render(request, "trips/trip_night_safety.html", context)


def _who_may(board: Board) -> str:
    """Say it to those who may not: another query."""
    return "" if board.may_change else who_may(board.trip, leading=board.instructors)


def _rows(board: Board) -> TripRows:
    sites = {spot.site_id for night in board.nights for spot in _spots(night)}
    cars, drives = cars_of(board.trip)
    return TripRows(
        trip=board.trip,
        nights=board.nights,
        placed=len(board.placed),
        leaders=len(board.instructors),
        hazards=list(Hazard.objects.filter(site__in=sites)),
        cars=cars,
        drives=drives,
    )


def _safe_nights(
    nights: Sequence[TripNight], instructors: Sequence[TripInstructor], now: datetime
) -> list[SafeNight]:
    caller = str(instructors[0]) if instructors else ""
    overdue = [night for night in nights if _is_overdue(night, now)]
    troubles = letters_in_trouble(overdue, now=now)
    return [_safe(night, caller, now, troubles.get(night.pk, "")) for night in nights]


def _is_overdue(night: TripNight, now: datetime) -> bool:
    return is_watched(night) and night.call_out_at <= now


def _safe(night: TripNight, caller: str, now: datetime, trouble: str) -> SafeNight:
    tides = list(night.tides.all()) if is_coast(night) else []
    return SafeNight(
        night=night,
        rule=silence(night, caller=caller),
        is_coast=is_coast(night),
        tides=tides,
        lacks=lacking(night, tides),
        spring=spring_words(night) if is_coast(night) else "",
        is_watched=is_watched(night),
        is_overdue=_is_overdue(night, now),
        trouble=trouble,
        has_begun=night.meeting_at <= now,
    )


def _by_site(nights: Sequence[TripNight], hazards: Iterable[Hazard]) -> list[SiteCautions]:
    """Give the cautions of each site once, with the dangers of those spots that are used."""
    sites = {spot.site_id: spot.site for night in nights for spot in _spots(night)}
    used = {one.pk: one for night in nights for one in hazards_of(night, hazards)}
    found = []
    for pk, site in sites.items():
        here = [hazard for hazard in used.values() if hazard.site_id == pk]
        found.append(SiteCautions(site, cautions(site, here), not here))
    return found


def _spots(night: TripNight) -> list[Any]:
    return [spot for spot in (night.spot, night.second_spot) if spot is not None]
