"""Making a head-count link useless: one's own, or, for whoever may change the trip, another's."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from trips.models import TripInstructor
from trips.services.head_counts import renew_link
from trips.services.leading import who_may
from trips.views.board import board_of
from trips.views.members import member


@require_POST
@login_required
def count_link_renew(request: HttpRequest, instructor_id: int) -> HttpResponse:
    mine = TripInstructor.objects.for_member(member(request))
    leader: TripInstructor = get_object_or_404(
        mine.select_related("trip__organisation", "user"), pk=instructor_id
    )
    board = board_of(request, leader.trip)
    if not board.may_change and leader.user_id != board.viewer.pk:
        raise PermissionDenied(who_may(leader.trip, leading=board.instructors))
    renew_link(leader, by=board.viewer, now=timezone.now())
    words = _("The old head-count link of %(name)s opens nothing any more.")
    messages.success(request, words % {"name": leader})
    return redirect("trip_detail", leader.trip_id)
