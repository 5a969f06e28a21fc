"""Who is asking: every page starts from the person signed in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar, cast

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest
from django.shortcuts import get_object_or_404

from trips.models import (
    Camera,
    Enrolment,
    LoanItem,
    Membership,
    Organisation,
    Season,
    Site,
    Spot,
    TargetList,
    Trip,
    TripNight,
    User,
)
from trips.services.leading import may_change, who_may

RowT = TypeVar("RowT", Season, Site, TargetList, Camera, LoanItem, Trip)


def member(request: HttpRequest) -> User:
    """Give the person signed in; used behind `login_required` only."""
    return cast(User, request.user)


def season_of(request: HttpRequest, season_id: int) -> Season:
    """Give a season of the person's organisations; another one is no page."""
    mine = Season.objects.for_member(member(request)).select_related("organisation", "target_list")
    season: Season = get_object_or_404(mine, pk=season_id)
    return season


def site_of(request: HttpRequest, site_id: int) -> Site:
    """Give a site of the person's organisations; another one is no page."""
    mine = Site.objects.for_member(member(request)).select_related("organisation")
    site: Site = get_object_or_404(mine, pk=site_id)
    return site


def spot_of(request: HttpRequest, spot_id: int) -> Spot:
    """Give a spot of the person's organisations; another one is no page."""
    mine = Spot.objects.for_member(member(request)).select_related("site__organisation")
    spot: Spot = get_object_or_404(mine, pk=spot_id)
    return spot


def target_list_of(request: HttpRequest, list_id: int) -> TargetList:
    """Give a list of targets of the person's organisations; another one is no page."""
    mine = TargetList.objects.for_member(member(request)).select_related("organisation")
    found: TargetList = get_object_or_404(mine, pk=list_id)
    return found


def camera_of(request: HttpRequest, camera_id: int) -> Camera:
    """Give a camera of the person's organisations; another one is no page."""
    mine = Camera.objects.for_member(member(request)).select_related("organisation")
    found: Camera = get_object_or_404(mine, pk=camera_id)
    return found


def loan_item_of(request: HttpRequest, item_id: int) -> LoanItem:
    """Give a piece of a loan kit of the person's organisations; another one is no page."""
    mine = LoanItem.objects.for_member(member(request)).select_related("organisation")
    found: LoanItem = get_object_or_404(mine, pk=item_id)
    return found


def trip_of(request: HttpRequest, trip_id: int) -> Trip:
    """Give a trip of the person's organisations; another one is no page."""
    mine = Trip.objects.for_member(member(request))
    found: Trip = get_object_or_404(
        mine.select_related("organisation", "season", "target_list"), pk=trip_id
    )
    return found


def trip_night_of(request: HttpRequest, night_id: int) -> TripNight:
    """Give a night of such a trip; another one is no page."""
    mine = TripNight.objects.for_member(member(request))
    related = ("trip__organisation", "spot__site", "second_spot__site")
    night: TripNight = get_object_or_404(mine.select_related(*related), pk=night_id)
    return night


def enrolment_of(request: HttpRequest, enrolment_id: int) -> Enrolment:
    """Give an enrolment of such a trip; another one is no page."""
    mine = Enrolment.objects.for_member(member(request))
    related = ("trip__organisation", "person")
    found: Enrolment = get_object_or_404(mine.select_related(*related), pk=enrolment_id)
    return found


def require_leader(request: HttpRequest, trip: Trip) -> None:
    """A trip is changed by those whose it is; the other members may look, and are told who."""
    if not may_change(member(request), trip):
        raise PermissionDenied(who_may(trip))


def by_organisation(
    request: HttpRequest, rows: Sequence[RowT]
) -> list[tuple[Organisation, list[RowT]]]:
    """Sort rows under each organisation of the person signed in, those without any too."""
    return [
        (organisation, [row for row in rows if row.organisation_id == organisation.pk])
        for organisation in Organisation.objects.for_member(member(request)).order_by("name")
    ]


def require_coordinator(request: HttpRequest, organisation: Organisation) -> None:
    if organisation.pk not in coordinated(request, [organisation]):
        raise PermissionDenied


def coordinated(request: HttpRequest, organisations: Iterable[Organisation]) -> set[int]:
    """Give the ids of those organisations that the person coordinates."""
    held = Membership.objects.filter(
        user=member(request),
        role=Membership.Role.COORDINATOR,
        organisation__in=list(organisations),
    )
    return set(held.values_list("organisation_id", flat=True))
