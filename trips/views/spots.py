"""One spot: shown with what passes over its skyline, put first, archived, taken away as a table."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trips.almanac.bearings import bearing, distance, whole_azimuth
from trips.almanac.local_time import night_at
from trips.almanac.needle import Needle, needle_at
from trips.almanac.places import describe_position
from trips.almanac.skyline_words import degrees, gap_words, hidden_words, skyline_words
from trips.almanac.spots import place_of_spot, skyline_of_spot
from trips.almanac.targets import Target, target_of
from trips.almanac.tracks import day_track, has_track, night_track
from trips.almanac.wording import SkyError, sentence
from trips.forms.spot_asked import MOST_TARGETS, Asked, read_asked
from trips.models import Landmark, Spot, TargetList
from trips.services.cautions import cautions
from trips.services.spots import archive_spot, put_first, spots_of
from trips.skyline_table import COLUMNS
from trips.views.archiving import archiving
from trips.views.downloads import csv_file
from trips.views.members import coordinated, member, spot_of
from trips.views.spot_pictures import ShownTrack, spot_picture, track_lines

LEAST_STEP_DEGREES = 0.01


@dataclass(frozen=True, slots=True)
class LandmarkLine:
    """A landmark as its table says it; `step` what one step aside does to its direction.
    `by_compass` is empty where no needle is to be followed."""

    key: int
    name: str
    direction: str
    by_compass: str
    top: str
    width: str
    face: str
    distance: str
    step: str
    is_seen_at_night: bool


@require_safe
@login_required
def spot_detail(request: HttpRequest, spot_id: int) -> HttpResponse:
    spot, now = spot_of(request, spot_id), timezone.now()
    hazards, landmarks = list(spot.hazards.all()), list(spot.landmarks.all())
    asked = read_asked(request.GET)
    wanted = _season_list(spot, now)
    shown, mistakes = _tracks(spot, asked, wanted, now)
    when = _when(spot, asked.night, now)
    needle = needle_at(place_of_spot(spot), asked.night or _today(spot, now))
    context = {
        "spot": spot,
        "site": spot.site,
        "answer": _answer(spot),
        "echo": describe_position(spot.latitude, spot.longitude),
        "is_first": spots_of(spot.site)[:1] == [spot],
        "picture": spot_picture(spot, landmarks, shown, when),
        "gap": gap_words(skyline_of_spot(spot)),
        "tracks": track_lines(spot, shown),
        "when": when,
        "asked": asked,
        "mistakes": [*asked.mistakes, *mistakes],
        "from_list": "" if asked.targets else _from_list(wanted, len(shown)),
        "landmarks": list(_landmark_lines(landmarks, needle)),
        "needle": needle,
        "hidden": hidden_words(skyline_of_spot(spot), landmarks),
        "hazards": hazards,
        "cautions": cautions(spot.site, hazards) if hazards else [],
        "may_archive": coordinated(request, [spot.site.organisation]),
    }
    return render(request, "trips/spot_detail.html", context)


@require_POST
@login_required
def spot_first(request: HttpRequest, spot_id: int) -> HttpResponse:
    spot = spot_of(request, spot_id)
    put_first(spot)
    words = _("Seasons of %(site)s are judged from %(spot)s.")
    messages.success(request, words % {"site": spot.site.name, "spot": spot.name})
    return redirect("spot_detail", spot.pk)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def spot_archive(request: HttpRequest, spot_id: int) -> HttpResponse:
    spot = spot_of(request, spot_id)
    return archiving(
        request, spot, lambda: archive_spot(spot, by=member(request), now=timezone.now()),
        organisation=spot.site.organisation,
        template="trips/spot_archive.html", then=reverse("site_detail", args=[spot.site_id]),
    )  # fmt: skip


@require_safe
@login_required
def spot_skyline_csv(request: HttpRequest, spot_id: int) -> HttpResponse:
    """Give the points that were measured; a level skyline has a heading and nothing under it."""
    spot = spot_of(request, spot_id)
    return csv_file([spot.site.name, spot.name, "skyline"], COLUMNS, spot.skyline)


def _season_list(spot: Spot, now: datetime) -> TargetList | None:
    """Give the targets of the site's season that is on, or next; the last one's if none is."""
    seasons = spot.site.seasons.current().exclude(target_list=None).select_related("target_list")
    ahead = seasons.filter(last_night__gte=now.date()).order_by("first_night").first()
    season = ahead or seasons.order_by("-last_night").first()
    return season.target_list if season else None


def _tracks(
    spot: Spot, asked: Asked, wanted: TargetList | None, now: datetime
) -> tuple[list[ShownTrack], list[str]]:
    """Give the tracks of what is asked, else of the season's targets; and what cannot be drawn."""
    targets = list(asked.targets) or _of_list(wanted)
    place = place_of_spot(spot)
    try:
        if asked.night:
            tracks = [night_track(target, place, asked.night) for target in targets]
        else:
            tracks = [day_track(target, place, _today(spot, now)) for target in targets]
    except SkyError as error:
        return [], [sentence(error)]
    return [ShownTrack(track, is_asked=bool(asked.targets)) for track in tracks], []


def _of_list(wanted: TargetList | None) -> list[Target]:
    keys = wanted.entries.values_list("target", flat=True) if wanted else []
    found = (target_of(key) for key in keys)
    return [target for target in found if has_track(target)][:MOST_TARGETS]


def _from_list(wanted: TargetList | None, shown: int) -> str:
    """Say whose targets these are, and how many of them if not all."""
    if wanted is None:
        return ""
    count = wanted.entries.count()
    if count == shown:
        return _("Targets of the list %(name)s.") % {"name": wanted.name}
    words = _(
        "%(shown)d of the %(count)d targets of the list %(name)s: the first that are points in the "
        "sky. Name others above to see them."
    )
    return words % {"shown": shown, "count": count, "name": wanted.name}


def _today(spot: Spot, now: datetime) -> date:
    return night_at(now, spot.site.zone)


def _when(spot: Spot, night: date | None, now: datetime) -> str:
    if night:
        return _("The night of %(date)s") % {"date": date_format(night, "D j F Y")}
    return _("The round of a day, %(date)s") % {
        "date": date_format(_today(spot, now), "j F Y")
    }  # fmt: skip


def _answer(spot: Spot) -> str:
    parts = [capfirst(skyline_words(skyline_of_spot(spot)))]
    if spot.tripods is not None:
        room = ngettext("room for %(count)d tripod", "room for %(count)d tripods", spot.tripods)
        parts.append(room % {"count": spot.tripods})
    if spot.walk_minutes is not None:
        parts.append(_("%(minutes)d\u00a0min on foot") % {"minutes": spot.walk_minutes})
    return "; ".join(parts) + "."


def _landmark_lines(landmarks: Iterable[Landmark], needle: Needle) -> Iterable[LandmarkLine]:
    for one in landmarks:
        yield LandmarkLine(
            one.pk,
            one.name,
            bearing(one.azimuth_degrees),
            _by_compass(needle.by_compass(one.azimuth_degrees)),
            degrees(one.top_degrees),
            "" if one.width_degrees is None else f"{one.width_degrees:.1f}°",
            "" if one.face_degrees is None else _face(one.face_degrees),
            "" if one.distance_m is None else distance(one.distance_m),
            "" if one.distance_m is None else _step(one.distance_m),
            one.is_seen_at_night,
        )


def _face(azimuth: float) -> str:
    return _("its face looks %(bearing)s") % {"bearing": bearing(azimuth)}


def _by_compass(azimuth: float | None) -> str:
    if azimuth is None:
        return ""
    return _("%(degrees)d° by compass") % {"degrees": whole_azimuth(azimuth)}


def _step(distance_m: float) -> str:
    """One step sideways, taken for a metre."""
    turn = math.degrees(math.atan(1 / distance_m))
    shown = f"{turn:.2g}°" if turn >= LEAST_STEP_DEGREES else _("less than 0.01°")
    return _("one step aside = %(turn)s") % {"turn": shown}
