"""The trip that the browser meets: two nights at the coast, three people, and the links of all."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from tests.browser import clock
from trips.models import (
    BriefNote,
    Car,
    Enrolment,
    LoanItem,
    Person,
    Season,
    Spot,
    Trip,
    TripNight,
    User,
)
from trips.planning.gear import Camera, Lens, Tracker
from trips.services import links
from trips.services.briefs.plans import OF_A_NIGHT, make_missing
from trips.services.briefs.publishing import publish
from trips.services.gear import add_piece
from trips.services.loans import save_item
from trips.services.trips import make_trip

EVENINGS = [date(2027, 2, 5), date(2027, 2, 6)]
WRITTEN = "The planks are wet: <b>slow</b>.\n\nالألواح مبللة"
# Of every sort of name. All are invented.
PEOPLE = ["Ines Calder", "Ådne <Fjell> Østerlund-Vatnajøkulsson", "ابن الليل"]


def fill(spot: Spot, season: Season, by: User) -> dict[str, Any]:
    """Make the trip and give where its pages are."""
    trip = make_trip(
        spot.site.organisation,
        name="Two nights at the boathouse",
        evenings=EVENINGS,
        spot=spot,
        by=by,
        now=clock.TODAY,
        season=season,
        meeting_point="The last lay-by before the slip",
        is_public=True,
    )
    for night in trip.nights.all():
        night.decision_at = night.meeting_at - timedelta(hours=4)
        night.decision_place = "the notice board of the club"
        night.save()
    rows = [_enrol(trip, n, name) for n, name in enumerate(PEOPLE)]
    _bring(trip, rows[0])
    Car.objects.create(trip=trip, name="Long grey van, 4821 KLM, with a ladder on it", seats=8)
    Trip.objects.filter(pk=trip.pk).update(status=Trip.Status.OPEN)
    _publish(trip, by)
    return {
        "trip": trip.pk,
        "trip night": trip.nights.get(date=EVENINGS[0]).pk,
        "evening": EVENINGS[0].isoformat(),
        "enrolment": rows[0].pk,
        "links": {
            "head count": links.token_of(trip.instructors.get(user=by)),
            "person": links.token_of(rows[0]),
            "third person": links.token_of(rows[2]),
            "invitation": links.invitation_of(trip),
        },
        "open page": str(trip.uid),
    }


def _publish(trip: Trip, by: User) -> None:
    """Publish the brief of both nights, each with what somebody wrote in their own way."""
    for night in TripNight.objects.select_related(*OF_A_NIGHT).filter(trip=trip):
        BriefNote.objects.create(night=night, part="dangers", is_instead=False, text=WRITTEN)
        publish(night, by=by, now=clock.TODAY, is_mailed=False)
    make_missing(clock=lambda: clock.TODAY)


def _bring(trip: Trip, enrolment: Enrolment) -> None:
    """A camera with a lens that can and one that cannot, and a tracker to ask for."""
    for piece in (
        Camera(sensor_width_mm=36, sensor_height_mm=24, pixels_wide=6000, pixels_high=4000),
        Lens(focal_mm=24, widest_f_number=1.8),
        Lens(name="العدسة <85>", focal_mm=85, widest_f_number=4),
    ):
        add_piece(enrolment, piece)
    save_item(LoanItem(organisation=trip.organisation), Tracker(name="Tern", payload_kg=5))


def _enrol(trip: Trip, n: int, name: str) -> Enrolment:
    person = Person.objects.create(
        organisation=trip.organisation,
        name=name,
        mail=f"person{n}@calder.example",
        phone=f"+34 600 000 00{n}",
        emergency_name="Otis Calder",
        emergency_phone="+34 600 000 009",
    )
    row = Enrolment(
        trip=trip, person=person, state=Enrolment.State.PLACED, place=n + 1,
        asked_at=clock.TODAY, confirmed_at=clock.TODAY, placed_at=clock.TODAY,
    )  # fmt: skip
    links.sign(row)
    row.save()
    return row
