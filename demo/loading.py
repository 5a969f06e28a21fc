"""Puts the demo club into the database, or finds it there."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import transaction

from demo import club, darkness, spots
from demo.trip import load_trips
from trips.almanac.metering import MeteredFrame, metered
from trips.almanac.readings import instant_of
from trips.models import (
    Camera,
    DarknessReading,
    Hazard,
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
from trips.services.cameras import calibrate, save_camera
from trips.services.darkness import add_readings
from trips.services.seasons import request_season, save_season
from trips.services.sites import save_site
from trips.services.spots import Changes, save_spot
from trips.services.target_lists import save_list


@transaction.atomic
def load_club(*, now: datetime) -> Season:
    """Give the demo season with its jobs asked for; what is there already is left as it is."""
    organisation, _is_new = Organisation.objects.get_or_create(name=club.ORGANISATION)
    organiser = _member(organisation, club.ORGANISER, Membership.Role.COORDINATOR)
    _member(organisation, club.INSTRUCTOR, Membership.Role.INSTRUCTOR)
    named = {"organisation": organisation, "name": club.SEASON["name"]}
    season: Season | None = Season.objects.current().filter(**named).first()
    if season is not None:
        request_season(season, by=organiser, now=now)
        load_trips(organisation, season, organiser, now)
        return season
    season = Season(organisation=organisation, **club.SEASON)
    sites = [_site(organisation, fields, organiser, now) for fields in club.SITES]
    camera = _camera(organisation)
    for site in sites:
        _keep_log(site, camera, organiser, now)
    lists = [_target_list(organisation, name, organiser, now) for name in club.TARGETS]
    season.target_list = lists[0]
    save_season(season, sites, by=organiser, now=now)
    load_trips(organisation, season, organiser, now)
    return season


def organiser() -> User:
    return User.objects.get(email=club.ORGANISER)


def _member(organisation: Organisation, email: str, role: Membership.Role) -> User:
    user = User.objects.filter(email=email).first()
    if user is None:
        # No password: the link on the terminal is the only way in.
        user = User.objects.create_user(email)
    Membership.objects.get_or_create(user=user, organisation=organisation, defaults={"role": role})
    return user


def _site(organisation: Organisation, fields: dict[str, Any], by: User, now: datetime) -> Site:
    named = Site.objects.current().filter(organisation=organisation, name=fields["name"])
    site: Site | None = named.first()
    if site is not None:
        return site
    site = Site(organisation=organisation, **fields)
    save_site(site, by=by, now=now)
    for kind, text in club.HAZARDS.get(site.name, []):
        Hazard.objects.create(site=site, kind=kind, text=text)
    for spot in spots.SPOTS.get(site.name, []):
        _add_spot(site, spot, by, now)
    return site


def _add_spot(site: Site, written: dict[str, Any], by: User, now: datetime) -> None:
    rows = {"landmarks", "hazards"}
    save_spot(
        Spot(site=site, **{name: value for name, value in written.items() if name not in rows}),
        landmarks=Changes([_landmark(fields) for fields in written.get("landmarks", [])]),
        hazards=Changes([Hazard(kind=kind, text=text) for kind, text in written["hazards"]]),
        by=by,
        now=now,
    )


def _landmark(fields: dict[str, Any]) -> Landmark:
    # Where it is only known by its position, saving finds the direction.
    return Landmark(**{"azimuth_degrees": 0.0} | fields)


def _camera(organisation: Organisation) -> Camera:
    named = {"organisation": organisation, "name": darkness.CAMERA["name"]}
    camera: Camera | None = Camera.objects.current().filter(**named).first()
    if camera is not None:
        return camera
    camera = Camera(organisation=organisation, **darkness.CAMERA)
    save_camera(camera)
    beside = dict(darkness.CALIBRATION)
    frame = MeteredFrame(**beside.pop("exposure"), level=beside.pop("level"))
    calibrate(camera, frame, **beside)
    return camera


def _keep_log(site: Site, camera: Camera, by: User, now: datetime) -> None:
    if site.darkness_readings.exists():
        return
    for outing in darkness.OUTINGS.get(site.name, []):
        add_readings(site, _readings(site, outing, camera), by=by, now=now)


def _readings(site: Site, outing: dict[str, Any], camera: Camera) -> list[DarknessReading]:
    shared = {
        "at": instant_of(outing["evening"], outing["clock"], site.zone),
        "moon_up": outing.get("moon_up", False),
        "snow": outing.get("snow", False),
        "note": outing["note"],
    }
    by_meter = [
        DarknessReading(azimuth_degrees=azimuth, magnitude=magnitude, **shared)
        for azimuth, magnitude in outing.get("meter", [])
    ]
    by_frame = [
        DarknessReading(
            azimuth_degrees=azimuth,
            magnitude=metered(camera, MeteredFrame(**outing["exposure"], level=level)),
            how=DarknessReading.How.FRAME,
            camera=camera,
            **shared,
        )
        for azimuth, level in outing.get("frames", [])
    ]
    return by_meter + by_frame


def _target_list(organisation: Organisation, name: str, by: User, now: datetime) -> TargetList:
    named = TargetList.objects.current().filter(organisation=organisation, name=name)
    target_list: TargetList | None = named.first()
    if target_list is not None:
        return target_list
    target_list = TargetList(organisation=organisation, name=name)
    entries = [
        TargetEntry(target=target, weight=weight, field_degrees=field)
        for target, weight, field in club.TARGETS[name]
    ]
    save_list(target_list, entries, by=by, now=now)
    return target_list
