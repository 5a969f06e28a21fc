"""The demo's trips: one that six people have joined, and one that is over, with its log."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from demo.people import GUESTS, LOANS, Guest
from trips.models import Car, LoanItem, Organisation, Season, Spot, Trip, TripNight, User
from trips.services import joining
from trips.services.cars import save_cars
from trips.services.closing import close_night
from trips.services.gear import add_piece
from trips.services.loans import save_item
from trips.services.night_logs import save_log
from trips.services.rotas import propose_rota, save_rota
from trips.services.trip_nights import save_night
from trips.services.trips import make_trip, step

COMING: dict[str, Any] = {
    "name": "June core over the plateau",
    "evenings": [date(2027, 6, 4), date(2027, 6, 5)],
    "spot": ("Cold Hearth Plateau", "South of the sheepfold"),
    "meeting_point": "The lay-by before the last barrier",
    "capacity": 10,
    "least_people": 4,
    "decided_by": date(2027, 5, 14),
    "give_back_until": date(2027, 5, 7),
    "is_public": True,
    "included": "Two nights of teaching, the club’s loan kit, soup at midnight.",
    "not_included": "Travel, beds, food.",
    "contact_name": "Marga at the club room",
    "contact_phone": "+34 600 000 090",
    "contact_mail": "contact@example.org",
    "drive_before_hours": 3.0,
}
PAST: dict[str, Any] = {
    "name": "September nights, tried out",
    "evenings": [date(2026, 9, 11), date(2026, 9, 12)],
    "spot": ("Cold Hearth Plateau", "South of the sheepfold"),
    "meeting_point": "The lay-by before the last barrier",
    "capacity": 4,
}
# Oktas, clear hours, and how it was.
LOGS = [
    (1, 5.5, "Clear from dusk; dew from 01:00, two lenses fogged. The wall kept the wind off."),
    (6, 1.5, "Cloud from the west at 23:30. Waited an hour, then went home in time."),
]
CARS = [("Grey van", 8), ("Blue estate", 5)]
DECIDED_BEFORE = timedelta(hours=4)


def load_trips(organisation: Organisation, season: Season, by: User, now: datetime) -> None:
    """Make the trips and the loan kit of a club that has none yet."""
    if Trip.objects.filter(organisation=organisation).exists():
        return
    for piece in LOANS:
        save_item(LoanItem(organisation=organisation), piece)
    _past(organisation, by)
    trip = _made(organisation, COMING, by, now, season=season)
    step(trip, Trip.Status.OPEN, by=by, now=now)
    for guest in GUESTS:
        _join(trip, guest, now)
    save_cars(trip, kept=[Car(name=name, seats=seats) for name, seats in CARS], dropped=[],
              by=by, now=now)  # fmt: skip
    _share_turns(trip, by, now)


def _made(
    organisation: Organisation,
    told: dict[str, Any],
    by: User,
    now: datetime,
    *,
    season: Season | None = None,
) -> Trip:
    values = dict(told)
    site, spot = values.pop("spot")
    stands = Spot.objects.get(site__organisation=organisation, site__name=site, name=spot)
    trip = make_trip(organisation, spot=stands, season=season, by=by, now=now, **values)
    for night in trip.nights.select_related("spot__site", "trip"):
        night.decision_at = night.meeting_at - DECIDED_BEFORE
        night.decision_place = "the club’s notice board"
        save_night(night, by=by, now=now)
    return trip


def _past(organisation: Organisation, by: User) -> None:
    """Take a trip through all its steps at the hours at which its leader did."""
    made = datetime.fromisoformat("2026-08-01T10:00+02:00")
    trip = _made(organisation, PAST | {"least_people": 0}, by, made)
    step(trip, Trip.Status.OPEN, by=by, now=made)
    step(trip, Trip.Status.CONFIRMED, by=by, now=made)
    nights = list(trip.nights.select_related("spot__site", "trip"))
    step(trip, Trip.Status.RUNNING, by=by, now=nights[0].meeting_at)
    for night, (oktas, hours, note) in zip(nights, LOGS, strict=True):
        close_night(night, by=by, now=night.ends_at)
        night.oktas, night.clear_hours, night.log_note = oktas, hours, note
        save_log(night, by=by, now=night.ends_at + timedelta(hours=9))
    step(trip, Trip.Status.DONE, by=by, now=nights[-1].ends_at + timedelta(hours=9))


def _join(trip: Trip, guest: Guest, now: datetime) -> None:
    """Ask, confirm and fill in as each would have by the links of their mails."""
    asked = joining.ask(trip, name=guest.name, mail=guest.mail, now=now)
    if asked is None:
        return
    held = joining.confirm(asked, now=now)
    rest = joining.Rest(
        name=guest.name,
        phone=f"+34 600 000 0{held.place:02d}",
        emergency_name="Somebody at home",
        emergency_phone=f"+34 600 000 1{held.place:02d}",
        experience=guest.experience,
        units=guest.units,
        wish=guest.wish,
    )
    placed = joining.say_the_rest(held, rest, now=now)
    for piece in guest.gear:
        add_piece(placed, piece)


def _share_turns(trip: Trip, by: User, now: datetime) -> None:
    night: TripNight = trip.nights.select_related("spot__site", "trip").latest("date")
    rota = propose_rota(night)
    rota.what, rota.stations = "The club’s tracker", 1
    rota.starts_at = night.ends_at - timedelta(hours=3)
    save_rota(rota, by=by, now=now)
