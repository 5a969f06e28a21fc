"""The board of a trip: its nights, people, gear and safety on one page, each part in its file."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from trips.views.board import board_of
from trips.views.members import trip_of
from trips.views.trip_count import count_part
from trips.views.trip_gear import gear_part
from trips.views.trip_group import group_part
from trips.views.trip_nights import nights_part
from trips.views.trip_people import people_part
from trips.views.trip_safety import safety_part
from trips.views.trip_status import status_part

PARTS = (status_part, nights_part, people_part, gear_part, group_part, safety_part, count_part)


@require_safe
@login_required
def trip_detail(request: HttpRequest, trip_id: int) -> HttpResponse:
    board = board_of(request, trip_of(request, trip_id))
    context = {"board": board, "trip": board.trip}
    for part in PARTS:
        context |= part(board)
    return render(request, "trips/trip_detail.html", context)
