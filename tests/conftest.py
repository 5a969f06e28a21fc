"""The fixed cast: who asks, and what their club owns. Each view is tried by the stranger too."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import pytest
from django.core.cache import cache
from django.test import Client

from trips.almanac.fingerprint import site_fingerprint
from trips.models import (
    Camera,
    DarknessReading,
    Enrolment,
    Hazard,
    Job,
    Landmark,
    Letter,
    Loan,
    LoanItem,
    Membership,
    Night,
    Organisation,
    Person,
    Rota,
    Season,
    Site,
    Spot,
    TargetEntry,
    TargetList,
    Trip,
    TripInstructor,
    TripNight,
    Turn,
    User,
)
from trips.services.letters import queue
from trips.services.links import sign
from trips.services.trips import make_trip

WHEN = datetime(2027, 2, 1, 12, tzinfo=UTC)
FIRST, LAST = date(2027, 3, 1), date(2027, 3, 31)
PASSWORD = "starlit-meadow-27"


@dataclass(frozen=True, slots=True)
class Cast:
    club: Organisation
    elsewhere: Organisation
    coordinator: User
    instructor: User
    stranger: User
    superuser: User
    site: Site
    far_site: Site  # of the stranger's organisation
    season: Season
    job: Job

    def user(self, role: str) -> User | None:
        user: User | None = None if role == "anonymous" else getattr(self, role)
        return user

    @property
    def colleague(self) -> User:
        """Give a member of the club who leads no trip; made when first asked for."""
        found = User.objects.filter(email="colleague@meadow.example").first()
        return found or _member(self.club, "instructor", email="colleague@meadow.example")

    @property
    def spot(self) -> Spot:
        """Give the site's spot; it is made when it is first asked for."""
        return Spot.objects.filter(site=self.site).first() or _spot(self.site)

    @property
    def target_list(self) -> TargetList:
        """Give the club's list of targets; it is made when it is first asked for."""
        found = TargetList.objects.filter(organisation=self.club).first()
        return found or _target_list(self.club)

    @property
    def camera(self) -> Camera:
        """Give the club's camera, calibrated; it is made when it is first asked for."""
        found = Camera.objects.filter(organisation=self.club).first()
        return found or _camera(self.club)

    @property
    def reading(self) -> DarknessReading:
        """Give the coordinator's reading at the site; it is made when it is first asked for."""
        found = DarknessReading.objects.filter(site=self.site).first()
        return found or DarknessReading.objects.create(
            site=self.site, at=datetime(2026, 3, 18, 22, 40, tzinfo=UTC), magnitude=21.4,
            by=self.coordinator,
        )  # fmt: skip

    @property
    def loan_item(self) -> LoanItem:
        """Give the club's tracker to lend; it is made when it is first asked for."""
        found = LoanItem.objects.filter(organisation=self.club).first()
        return found or LoanItem.objects.create(
            organisation=self.club, kind="tracker", name="Tern", spec={"payload_kg": 5.0}
        )

    @property
    def loan(self) -> Loan:
        """Give what the person with a place asks of the kit; made when first asked for."""
        found = Loan.objects.filter(item=self.loan_item).first()
        return found or Loan.objects.create(
            item=self.loan_item, night=self.trip_night, evening=FIRST, enrolment=self.enrolment,
            is_granted=False,
        )  # fmt: skip

    @property
    def trip(self) -> Trip:
        """Give the club's trip, a draft that the instructor leads; made when first asked for."""
        return Trip.objects.filter(organisation=self.club).first() or _trip(self)

    @property
    def trip_night(self) -> TripNight:
        """Give the trip's first night."""
        night: TripNight = self.trip.nights.get(date=FIRST)
        return night

    @property
    def trip_instructor(self) -> TripInstructor:
        led: TripInstructor = self.trip.instructors.get(user=self.instructor)
        return led

    @property
    def enrolment(self) -> Enrolment:
        """Give a person with a place on the trip; made when first asked for."""
        return Enrolment.objects.filter(trip=self.trip).first() or _enrolment(self.trip)

    @property
    def rota(self) -> Rota:
        """Give turns of the trip's first night for its one person; made when first asked for."""
        night = self.trip_night
        found: Rota | None = night.rotas.first()
        return found or _rota(night, self.enrolment)

    @property
    def letter(self) -> Letter:
        """Give a letter to that person; made when first asked for."""
        return queue("placed", key="placed", trip=self.trip, enrolment=self.enrolment, due_at=WHEN)


@pytest.fixture(autouse=True)
def _nothing_counted() -> None:
    """Forget what other tests tried: one address may do only so much in an hour."""
    cache.clear()


@pytest.fixture
def cast(db: None) -> Cast:
    club = Organisation.objects.create(name="Meadow Night Club")
    elsewhere = Organisation.objects.create(name="Harbour Night Club")
    site = Site.objects.create(
        organisation=club,
        name="Broom Hill",
        latitude=40.4,
        longitude=-1.1,
        elevation_m=1600.0,
        zone="Europe/Madrid",
    )
    Hazard.objects.create(site=site, kind=Hazard.Kind.EDGE, text="Unfenced edge north of the wall")
    season = Season.objects.create(
        organisation=club, name="Spring 2027", first_night=FIRST, last_night=LAST
    )
    season.sites.add(site)
    return Cast(
        club=club,
        elsewhere=elsewhere,
        coordinator=_member(club, "coordinator"),
        instructor=_member(club, "instructor"),
        stranger=_member(elsewhere, "coordinator", email="stranger@harbour.example"),
        superuser=User.objects.create_superuser("root@meadow.example", PASSWORD),
        site=site,
        far_site=Site.objects.create(
            organisation=elsewhere, name="Salt Quay", latitude=43.4, longitude=-4.0,
            zone="Europe/Madrid",
        ),
        season=season,
        job=_job(site),
    )  # fmt: skip


@pytest.fixture
def signed_in(cast: Cast) -> Callable[[str], Client]:
    """Give a browser in which that member of the cast is signed in (or nobody is)."""

    def browser(role: str) -> Client:
        client, user = Client(), cast.user(role)
        if user:
            client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
        return client

    return browser


@pytest.fixture
def coordinator(signed_in: Callable[[str], Client]) -> Client:
    return signed_in("coordinator")


def store_nights(site: Site, first: date = FIRST, last: date = LAST) -> None:
    """Store invented nights: dark 20:00–04:00 UTC, each with an hour less before moonrise."""
    fingerprint = site_fingerprint(site)
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    Night.objects.bulk_create(
        invented_night(site, day, moonless_hours=8 - n % 9, fingerprint=fingerprint)
        for n, day in enumerate(days)
    )


def invented_night(site: Site, day: date, *, moonless_hours: float, fingerprint: str) -> Night:
    noon = datetime(day.year, day.month, day.day, 11, tzinfo=UTC)
    dusk = (noon + timedelta(hours=9)).timestamp()
    dark = [[dusk, dusk + 8 * 3600]]
    moonless = [[dusk, dusk + moonless_hours * 3600]] if moonless_hours else []
    hours = {f"dark_hours_{level}": 8.0 for level in (18, 15, 12)}
    hours |= {f"moonless_hours_{level}": float(moonless_hours) for level in (18, 15, 12)}
    spans = {f"dark_{level}": dark for level in (18, 15, 12)}
    spans |= {f"moonless_{level}": moonless for level in (18, 15, 12)}
    return Night(
        site=site,
        date=day,
        start=noon,
        end=noon + timedelta(days=1),
        sunset=noon + timedelta(hours=7),
        civil_dusk=noon + timedelta(hours=7.5),
        sunrise=noon + timedelta(hours=18.5),
        moonrises=[dusk + moonless_hours * 3600],
        moon_illuminated=0.23,
        moon_waxing=False,
        absent={} if moonless_hours else {"moonless": "moon_up_while_dark"},
        fingerprint=fingerprint,
        **hours,
        **spans,
    )


def _member(organisation: Organisation, role: str, *, email: str = "") -> User:
    user = User.objects.create_user(email or f"{role}@meadow.example", PASSWORD)
    Membership.objects.create(user=user, organisation=organisation, role=role)
    return user


def _target_list(club: Organisation) -> TargetList:
    wanted = TargetList.objects.create(organisation=club, name="Summer sky")
    TargetEntry.objects.create(
        target_list=wanted, target="milky-way:core", name="Galactic core", weight=1.0
    )
    TargetEntry.objects.create(
        target_list=wanted, order=1, target="deep-sky:NGC7000", name="North America Nebula",
        weight=0.5, field_degrees=6.0,
    )  # fmt: skip
    return wanted


def _camera(club: Organisation) -> Camera:
    return Camera.objects.create(
        organisation=club,
        name="Grey Heron",
        sensor_width_mm=36.0,
        sensor_height_mm=24.0,
        pixels_wide=6000,
        pixels_high=4000,
        zero_point=7.4,
        calibrated_on=date(2026, 2, 14),
        calibrated_how="24 mm lens, beside the club's meter",
    )


def _spot(site: Site) -> Spot:
    spot = Spot.objects.create(
        site=site,
        name="Wall Corner",
        latitude=40.401,
        longitude=-1.102,
        elevation_m=1605.0,
        skyline=[[0.0, 2.0], [90.0, 6.0], [180.0, 3.0], [270.0, 12.0]],
    )
    Landmark.objects.create(spot=spot, name="Kiln", azimuth_degrees=214.0, top_degrees=7.0)
    return spot


def _trip(cast: Cast) -> Trip:
    """Two nights; everything is said of them that opening the trip asks for."""
    trip = make_trip(
        cast.club,
        name="Spring dark nights",
        evenings=[FIRST, FIRST + timedelta(days=1)],
        spot=cast.spot,
        by=cast.instructor,
        now=WHEN,
        season=cast.season,
        meeting_point="Car park below the wall",
    )
    for night in trip.nights.all():
        night.decision_at = night.meeting_at - timedelta(hours=4)
        night.decision_place = "the club's notice board"
        night.save()
    return trip


def _rota(night: TripNight, enrolment: Enrolment) -> Rota:
    rota = Rota.objects.create(
        night=night, what="The tracker", starts_at=night.meeting_at, ends_at=night.ends_at
    )
    ends = rota.starts_at + timedelta(minutes=70)
    Turn.objects.create(
        rota=rota, enrolment=enrolment, starts_at=rota.starts_at, ends_at=ends, station=1
    )
    return rota


def _enrolment(trip: Trip) -> Enrolment:
    enrolment = Enrolment(
        trip=trip,
        person=Person.objects.create(
            organisation=trip.organisation,
            name="Ines Calder",
            mail="ines@calder.example",
            phone="+34 600 000 001",
            emergency_name="Otis Calder",
            emergency_phone="+34 600 000 002",
        ),
        state=Enrolment.State.PLACED,
        place=1,
        asked_at=WHEN,
        confirmed_at=WHEN,
        placed_at=WHEN,
    )
    sign(enrolment)
    enrolment.save()
    return enrolment


def _job(site: Site) -> Job:
    return Job.objects.create(
        organisation=site.organisation,
        kind=Job.Kind.SITE_NIGHTS,
        site=site,
        first_night=FIRST,
        last_night=LAST,
        fingerprint=site_fingerprint(site),
        state=Job.State.RUNNING,
        done=12,
        total=31,
        created_at=WHEN,
    )
