"""The demo trip's briefs: published once, and where two of its people read theirs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from itertools import islice

from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext as _

from demo import club
from demo.trip import COMING
from trips.models import Trip, TripNight, User
from trips.services.briefs.plans import OF_A_NIGHT, make_missing
from trips.services.briefs.publishing import latest, publish
from trips.services.links import token_of

READERS_TOLD = 2


def publish_briefs(*, by: User, now: datetime) -> None:
    """Publish the nights to come that have no brief yet, mailing nobody."""
    for night in _nights().filter(ends_at__gt=now).exclude(trip__status=Trip.Status.CANCELLED):
        if latest(night) is None:
            publish(night, by=by, now=now, is_mailed=False)
    while make_missing(clock=lambda: now):
        pass


def tell_briefs(address: str) -> Iterator[str]:
    """Say where the last night's brief is: on two people's pages, and how to put it on paper."""
    night = published_night()
    if night is None:
        return
    yield ""
    yield _("The brief of the night of %(date)s, as its people read it on a phone:") % {
        "date": night.date
    }
    for name, page in islice(pages_of(night), READERS_TOLD):
        yield f"  {name}: {address}{page}"
    yield _("The same on one sheet of paper:")
    named = f'--trip "{night.trip.name}" --night {night.date}'
    yield f"  manage.py brief {named} --format pdf --out brief.pdf"


def published_night() -> TripNight | None:
    """Give the last night that people can read of."""
    night = _nights().last()
    return None if night is None or latest(night) is None else night


def pages_of(night: TripNight) -> Iterator[tuple[str, str]]:
    """Give the name of each reader and where their own page of the night is."""
    people = night.trip.enrolments.coming().select_related("person")
    for one in people.order_by("place"):
        yield one.person.name, reverse("brief_read", args=[token_of(one), night.date])


def _nights() -> QuerySet[TripNight]:
    found: QuerySet[TripNight] = TripNight.objects.filter(
        trip__organisation__name=club.ORGANISATION, trip__name=COMING["name"]
    )
    return found.select_related(*OF_A_NIGHT).order_by("date")
