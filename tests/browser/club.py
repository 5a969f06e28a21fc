"""The club that the browser meets: fixed sites, a fixed season, real computed nights.

Run in a process of its own (tests/browser/__main__.py), which the tests ask for.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

from django.contrib.auth import login
from django.contrib.sessions.backends.db import SessionStore
from django.core.management import call_command
from django.http import HttpRequest

from tests.browser import clock, trip
from trips.models import (
    Camera,
    DarknessReading,
    Hazard,
    Job,
    Landmark,
    Membership,
    Organisation,
    Season,
    Site,
    Spot,
    TargetEntry,
    TargetList,
    User,
)
from trips.services import working
from trips.services.cameras import save_camera
from trips.services.darkness import add_readings
from trips.services.seasons import archive_season, save_season
from trips.services.sites import save_site
from trips.services.spots import Changes, save_spot
from trips.services.target_lists import save_list

FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
PASSWORD = "starlit-meadow-27"
BACKEND = "django.contrib.auth.backends.ModelBackend"

# From the middle latitudes to where the Sun neither sets nor rises. Every name is invented.
SITES: dict[str, dict[str, Any]] = {
    "broom": {
        "name": "Broom Hill", "latitude": 40.4, "longitude": -1.1, "elevation_m": 1600.0,
        "country": "ES", "drive_minutes": 75, "night_access": "yes", "vehicle": "high",
        "phone_coverage": "patchy", "nearest_signal": "the bend below the barrier",
        "largest_group": 12, "months_open": [3, 4, 5, 6, 7, 8, 9, 10, 11],
        "sky_brightness": 21.6, "sky_measured_on": date(2026, 8, 12),
        "notes": "Windy: bring pegs for the tripods.",
    },
    "heron": {
        "name": "Heron Point", "latitude": 57.0, "longitude": -5.8, "elevation_m": 12.0,
        "country": "GB", "on_coast": True, "drive_minutes": 140, "night_access": "permit",
        "permit_number": "invented-27-3", "permit_lead_days": 21, "vehicle": "any",
        "phone_coverage": "none", "largest_group": 8,
    },
    "fjord": {
        "name": "Fjellhylla over Langvannet", "latitude": 69.7, "longitude": 18.9,
        "elevation_m": 160.0, "country": "NO", "night_access": "unknown", "vehicle": "any",
        "phone_coverage": "good", "largest_group": 8,
    },
}  # fmt: skip
HAZARDS = {
    "broom": [("edge", "unfenced drop north of the wall"), ("cold", "wind over the whole top")],
    "heron": [("water", "the point is cut off for three hours around high water")],
    "fjord": [("ice", "lake ice, thin at the outlet"), ("cold", "below −20 °C in a clear week")],
}

SPOT: dict[str, Any] = {
    "name": "Behind the boathouse", "latitude": 57.0004, "longitude": -5.8006, "elevation_m": 8.0,
    "tripods": 6, "walk_minutes": 9,
    "skyline": [[0, 12], [45, 7.5], [90, 3], [135, 0.5], [180, -0.5], [225, 0], [270, 2], [315, 9]],
    "skyline_how": "clinometer, 9 May 2026",
}  # fmt: skip
LANDMARKS: list[dict[str, Any]] = [
    {"name": "Beacon", "azimuth_degrees": 0.0, "latitude": 56.991, "longitude": -5.802,
     "top_degrees": 2.5, "width_degrees": 0.4, "face_degrees": 330.0, "is_seen_at_night": True},
    {"name": "Boathouse", "azimuth_degrees": 128.0, "top_degrees": 9.0, "width_degrees": 12.0,
     "distance_m": 40.0},
]  # fmt: skip

CAMERA: dict[str, Any] = {
    "name": "Grey Heron", "sensor_width_mm": 36.0, "sensor_height_mm": 24.0, "pixels_wide": 6000,
    "pixels_high": 4000, "zero_point": 7.4, "calibrated_on": date(2026, 2, 14),
    "calibrated_how": "24 mm lens, beside the club’s meter",
}  # fmt: skip
# Azimuth, None for the zenith, and mag/arcsec² at Broom Hill.
READINGS = [(None, 21.6), (90.0, 20.9), (180.0, 21.2), (315.0, 21.4)]
READ_AT = datetime(2026, 7, 14, 22, 20, tzinfo=UTC)

# Of every sort of name: one that is never up at Heron Point, one that the wide field must break.
TARGETS = [
    ("core", 1.0),
    ("NGC 104", 0.5),
    ("17h45m40s -29.0", 0.25),
    ("Jupiter", 0.0),
    ("shower:GEM", 0.7),
]

CROWD = 200
NAMES = [
    "Hill",
    "Λόφος των άστρων",
    "星見の丘",
    "تل النجوم",
    "Холм звёзд",
    "<b>Bold</b> & “quoted”",
    "Llanfairnightskywithoutasinglebreakinthewholeofitslongname",
]


def fill() -> dict[str, Any]:
    """Make the club and give what the tests must know of it."""
    call_command("collectstatic", interactive=False, verbosity=0)

    club = Organisation.objects.create(name="Meadow Night Club")
    people = {
        "coordinator": _member(club, "coordinator"),
        # One looks at an empty account; the other, in a test, fills it.
        "newcomer": _member(Organisation.objects.create(name="New Club"), "newcomer"),
        "beginner": _member(Organisation.objects.create(name="First Club"), "beginner"),
        "archivist": _member(Organisation.objects.create(name="Two Hundred Sites"), "archivist"),
    }
    facts = _places(club, people["coordinator"]["user"])
    facts["seasons"]["crowded"] = _crowd(people["archivist"]["user"])
    sessions = {role: person["session"] for role, person in people.items()}
    return facts | {"club": club.pk, "sessions": sessions}


def _member(club: Organisation, name: str) -> dict[str, Any]:
    user = User.objects.create_user(f"{name}@meadow.example", PASSWORD)
    Membership.objects.create(user=user, organisation=club, role=Membership.Role.COORDINATOR)
    request = HttpRequest()
    request.session = SessionStore()
    login(request, user, backend=BACKEND)
    request.session.save()
    return {"user": user, "session": request.session.session_key}


def _places(club: Organisation, by: User) -> dict[str, Any]:
    sites = {key: Site(organisation=club, **fields) for key, fields in SITES.items()}
    for key, site in sites.items():
        save_site(site, by=by, now=clock.TODAY)
        for kind, text in HAZARDS[key]:
            Hazard.objects.create(site=site, kind=kind, text=text)
    spot = _spot(sites["heron"], by)
    camera, reading = _camera_and_log(club, sites["broom"], by)
    season = Season(organisation=club, name="Season 2027", first_night=FIRST, last_night=LAST)
    save_season(season, list(sites.values()), by=by, now=clock.TODAY)
    work()
    # Asked for and left waiting: what is not there yet must be shown too.
    later = Season(
        organisation=club,
        name="Spring 2028",
        first_night=date(2028, 3, 1),
        last_night=date(2028, 4, 30),
    )
    save_season(later, [sites["heron"]], by=by, now=clock.TODAY)
    empty = Season(organisation=club, name="No sites yet", first_night=FIRST, last_night=LAST)
    save_season(empty, [], by=by, now=clock.TODAY)
    # In no list, and served by its address: the page that its weight and speed are measured by.
    one_site = Season(organisation=club, name="Heron 2027", first_night=FIRST, last_night=LAST)
    save_season(one_site, [sites["heron"]], by=by, now=clock.TODAY)
    archive_season(one_site, now=clock.TODAY)
    return {
        "sites": {key: site.pk for key, site in sites.items()},
        "spot": spot.pk,
        "target list": _target_list(club, by),
        "camera": camera,
        "reading": reading,
        "seasons": {
            "whole": season.pk,
            "waiting": later.pk,
            "empty": empty.pk,
            "one site": one_site.pk,
        },
        "jobs": {"running": _running_job(), "failed": _failed_job(sites["fjord"])},
        **trip.fill(spot, season, by),
    }


def _spot(site: Site, by: User) -> Spot:
    spot = Spot(site=site, **SPOT)
    landmarks = Changes([Landmark(**fields) for fields in LANDMARKS])
    hazards = Changes([Hazard(kind="edge", text="the slip is green below the line of weed")])
    save_spot(spot, landmarks=landmarks, hazards=hazards, by=by, now=clock.TODAY)
    return spot


def _camera_and_log(club: Organisation, site: Site, by: User) -> tuple[int, int]:
    camera = Camera(organisation=club, **CAMERA)
    save_camera(camera)
    readings = [
        DarknessReading(at=READ_AT, azimuth_degrees=azimuth, magnitude=magnitude)
        for azimuth, magnitude in READINGS
    ]
    add_readings(site, readings, by=by, now=clock.TODAY)
    return camera.pk, site.darkness_readings.filter(by=by).latest("pk").pk


def _target_list(club: Organisation, by: User) -> int:
    """Give a list that no season wants: it is looked at, and neither ranks nor is worked on."""
    wanted = TargetList(organisation=club, name="Over the boathouse, low and wide")
    entries = [TargetEntry(target=target, weight=weight) for target, weight in TARGETS]
    save_list(wanted, entries, by=by, now=clock.TODAY)
    return int(wanted.pk)


def _crowd(by: User) -> int:
    """Give a short season of two hundred sites, whose names are in many scripts."""
    organisation = Organisation.objects.get(name="Two Hundred Sites")
    crowd = [
        Site(
            organisation=organisation,
            name=f"{NAMES[n % len(NAMES)]} {n}",
            latitude=36 + n / 10,
            longitude=-5.0,
            zone="Europe/Madrid",
        )
        for n in range(CROWD)
    ]
    Site.objects.bulk_create(crowd)
    fortnight = {"first_night": date(2027, 3, 1), "last_night": date(2027, 3, 14)}
    season = Season(organisation=organisation, name="星の夜 " + "x" * 90, **fortnight)
    save_season(season, crowd, by=by, now=clock.TODAY)
    work()
    return int(season.pk)


def _running_job() -> int:
    job = Job.objects.open().get()  # of Spring 2028
    # As a worker leaves it between two signs of life.
    Job.objects.filter(pk=job.pk).update(
        state=Job.State.RUNNING, done=24, started_at=clock.TODAY, attempts=1
    )
    return int(job.pk)


def _failed_job(site: Site) -> int:
    job = Job.objects.create(
        organisation=site.organisation,
        kind=Job.Kind.SITE_NIGHTS,
        site=site,
        first_night=date(2026, 1, 1),
        last_night=date(2026, 12, 31),
        fingerprint="as it was",
        state=Job.State.FAILED,
        total=365,
        attempts=5,
        error="The worker fell silent at each attempt. Look at its log, then ask again.",
        created_at=clock.TODAY,
        finished_at=clock.TODAY,
    )
    return int(job.pk)


def ask() -> int:
    """Ask for the nights of a season that nobody has asked for yet; give the job."""
    site = Site.objects.get(name=SITES["heron"]["name"])
    year = 2029 + Season.objects.filter(name__startswith="Autumn").count()
    autumn = {"first_night": date(year, 9, 1), "last_night": date(year, 11, 30)}
    season = Season(organisation=site.organisation, name=f"Autumn {year}", **autumn)
    save_season(season, [site], by=None, now=clock.TODAY)
    return int(Job.objects.open().get(site=site, first_night=season.first_night).pk)


def work() -> None:
    """Do every job that waits, as a worker would."""
    for uid in Job.objects.filter(state=Job.State.QUEUED).values_list("uid", flat=True):
        working.run(uid, clock=lambda: clock.TODAY)
