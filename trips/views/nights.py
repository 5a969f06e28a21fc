"""One night at one site: the answer, its picture and times, and where it would be better."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.utils import timezone
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from trips.almanac.dates import FIRST_DAY, LAST_DAY
from trips.almanac.events import night_events
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.foreground import foreground_words
from trips.almanac.horizon import open_horizon
from trips.almanac.local_time import night_at
from trips.almanac.path_words import moon_sentences
from trips.almanac.paths import SunPath, moon_path, sun_path
from trips.almanac.places import describe_position
from trips.almanac.second import second_words
from trips.charts.course import course_of
from trips.charts.timeline import timeline
from trips.charts.timeline_tall import tall_timeline
from trips.forms.controls import wished_query
from trips.models import Job, Night, Season, Site
from trips.planning.nights import Block, Wishes
from trips.services.cautions import NOTHING_WRITTEN_DOWN, cautions
from trips.services.night_words import (
    dark_hours,
    lead,
    metres,
    moonless_hours,
    no_dark,
    staying,
    zone_words,
)
from trips.services.same_night import (
    SiteNight,
    at_every_site,
    at_site,
    gain_of_staying,
    seasons_with,
)
from trips.services.site_words import access_words, group_words
from trips.templatetags.nights import hours
from trips.views.members import site_of
from trips.views.night_brightness import night_brightness
from trips.views.night_elsewhere import elsewhere
from trips.views.night_focus import night_focus
from trips.views.night_levels import levels_of
from trips.views.night_lit import lit_tonight
from trips.views.night_set_up import night_set_up
from trips.views.night_sky import night_sky
from trips.views.night_spot import seen_from
from trips.views.night_targets import entries_wanted, targets_of_night, wanted_spans
from trips.views.night_times import by_day, moments_of, usable_of

ONE_DAY = timedelta(days=1)
# Later, the leap seconds to come are a guess.
LAST_EXACT_YEAR = 2035
# Without a season: the level that the almanac calls dark.
USUAL_LEVEL = Season.DarkLevel.ASTRONOMICAL.value


@require_safe
@login_required
def night_detail(request: HttpRequest, site_id: int, night: date) -> HttpResponse:
    if not FIRST_DAY <= night <= LAST_DAY:
        raise Http404
    site = site_of(request, site_id)
    seasons = seasons_with(site, night)
    season, wished = _as_asked(_chosen(seasons, request.GET.get("season")), request.GET)
    is_asked = bool(request.GET.get("season") or wished)
    named = {"season": season.pk} if season and (is_asked or season != seasons[0]) else {}
    row = Night.objects.filter(site=site, date=night).first()
    nights = at_every_site(season, night) if season else []
    today = night_at(timezone.now(), site.zone)
    hazards = list(site.hazards.all())
    context = {
        "site": site,
        "date": night,
        "night": row,
        "previous": night - ONE_DAY if night > FIRST_DAY else None,
        "next": night + ONE_DAY if night < LAST_DAY else None,
        "season": season,
        "other_seasons": [each for each in seasons if each != season],
        "asked": f"?{urlencode(named | wished, doseq=True)}" if named else "",
        "wished": f"&{urlencode(wished, doseq=True)}" if wished else "",
        "may_plan": site.archived_at is None and night >= today,
        "access": access_words(site, night, today=today),
        "group": group_words(site),
        "cautions": cautions(site, hazards),
        "unknown_dangers": "" if hazards else NOTHING_WRITTEN_DOWN,
        "elsewhere": elsewhere(season, site, nights, today=today),
    }
    if row:
        here = next((each for each in nights if each.site == site), None)
        if season and here is None:
            here = at_site(season, site, row, night)
        context |= _night(row, site, season, request.GET, here)
    if not row or context["stale"] or context["windows_missing"]:
        context["job"] = _job(site, night)
        context["any_season"] = season or site.seasons.current().first()
    return render(request, "trips/night_detail.html", context)


def _chosen(seasons: Sequence[Season], asked: str | None) -> Season | None:
    """Give the season asked for where it holds the night, else the first that does."""
    chosen = (season for season in seasons if str(season.pk) == asked)
    return next(chosen, seasons[0] if seasons else None)


def _as_asked(season: Season | None, asked: QueryDict) -> tuple[Season | None, dict[str, Any]]:
    """Give the season as the address wishes it, so that a night is judged as where it was found."""
    return wished_query(asked, season) if season else (None, {})


def _job(site: Site, night: date) -> Job | None:
    """Give the latest job for the night, which says why it is not there or not fresh."""
    jobs = Job.objects.filter(site=site, first_night__lte=night, last_night__gte=night)
    return jobs.order_by("-created_at").first()


def _night(
    row: Night, site: Site, season: Season | None, asked: QueryDict, here: SiteNight | None
) -> dict[str, Any]:
    """Give what the page says of a stored night."""
    wishes = Wishes.of(season) if season else None
    level = wishes.dark_level if wishes else USUAL_LEVEL
    judged = here.judged if here else None
    block = judged.block if judged and judged.why_not is None else None
    sun, moon = sun_path(row, site), moon_path(row, site)
    spots, entries = seen_from(site, asked.get("spot")), entries_wanted(season)
    stale = row.fingerprint != site_fingerprint(site)
    usable = usable_of(judged, wishes, site.zone)
    moments = moments_of(row, sun, moon, dark_level=level, usable=usable)
    events = night_events(site, row.date)
    sky = night_sky(row, spots, entries, asked, block=block)
    targets = targets_of_night(
        row, spots, season, entries, dark_level=level, asked=asked.get("targets")
    )
    first = lead(row, site.zone, sun, dark_level=level, judged=judged, wishes=wishes)
    also = [event.words for event in events if not event.details]
    said = moon_sentences(
        moon,
        site.zone,
        dark_hours=dark_hours(row, level),
        moonless_hours=moonless_hours(row, level),
    )
    return {
        "lead": first,
        "moon_path": said,
        "judged": judged,
        "block_to_use": block,
        "staying": staying(gain_of_staying(here, wishes)) if here and wishes else "",
        "zone_words": zone_words(row, site.zone),
        "position": describe_position(site.latitude, site.longitude),
        "elevation": metres(site.elevation_m),
        "open_horizon": open_horizon(site.elevation_m),
        "south": site.latitude < 0,
        "days": by_day(moments, row, site.zone),
        "days_utc": by_day(moments, row, "UTC"),
        "levels": levels_of(row, level),
        "targets": targets,
        "brightness": night_brightness(row, spots, targets, asked, dark_level=level),
        "sky": sky,
        "set_up": night_set_up(row, spots, sky.get("instant")),
        "focus": night_focus(row, spots, season, wanted_spans(targets)),
        "events": [event for event in events if event.details],
        "also": [
            *also,
            *foreground_words(row, site, spots.spot),
            *lit_tonight(row, spots, season, entries),
        ],
        "second": "" if stale else second_words(row, site),
        "stale": stale,
        "windows_missing": bool(here and here.wanted and here.wanted.missing),
        "inexact": row.date.year > LAST_EXACT_YEAR,
    } | _pictures(row, site, sun, level=level, block=block, description=" ".join([first, *said]))


def _pictures(
    row: Night, site: Site, sun: SunPath, *, level: int, block: Block | None, description: str
) -> dict[str, Any]:
    usable = (block.start, block.end) if block else None
    course = course_of(row, site.zone, dark_level=level, usable=usable)
    title = _("The night from noon to noon")
    note = "" if course.bands.dark else no_dark(sun, site.zone).rstrip(".")
    return {
        "timeline": timeline(course, title=title, description=description, note=note),
        "tall": tall_timeline(
            course,
            title=title,
            description=description,
            usable_words=_("%(hours)s usable") % {"hours": hours(block.hours)} if block else "",
            note=_("no dark") if note else "",
        ),
    }
