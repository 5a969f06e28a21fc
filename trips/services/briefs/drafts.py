"""The brief of a night as it would be published now: rows and sky, put into one value."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.cold import Cold
from trips.almanac.local_time import clock
from trips.models import BriefNote, Hazard, Rota, SiteMonth, TideTime, TripInstructor, TripNight
from trips.planning.brief.facts import Facts, Glance, Paragraphs, Sky, Target, Written
from trips.services.briefs import texts
from trips.services.briefs.glance import cold_answer, dark_answer, garment_for, moon_answer
from trips.services.briefs.helping import dangers_of, help_of
from trips.services.briefs.pictures import night_picture, skies_of, with_pictures
from trips.services.briefs.rows import rows_of
from trips.services.briefs.sky import BriefSky, sky_of
from trips.services.briefs.targets import first_frame, not_tonight, targets_of
from trips.services.briefs.units import METRIC
from trips.services.gear_nights import entries_of
from trips.services.meeting_points import meeting_point_told
from trips.services.night_cold import cold_of_night
from trips.services.night_words import zone_words
from trips.services.planned_trip import hazards_of
from trips.services.silence import silence

LEAVE_EARLY = timedelta(minutes=5)
RULES = gettext_lazy(
    "Local rules, land managers and licensed guides and instructors on the ground decide. If one "
    "of them says no, we do not go."
)


@dataclass(frozen=True, slots=True)
class Draft:
    """What a brief is drafted from, read and computed once for every reader of a night."""

    sky: BriefSky
    targets: tuple[Target, ...]
    strip: str
    skies: tuple[Sky, ...]
    cold: Cold | None
    hazards: Sequence[Hazard]
    tides: Sequence[TideTime]
    rotas: Sequence[Rota]
    instructors: Sequence[TripInstructor]
    notes: Sequence[BriefNote]
    now: datetime

    @property
    def night(self) -> TripNight:
        return self.sky.night


def draft_of(night: TripNight, *, now: datetime) -> Draft:
    """Read and compute what a brief is made of. `night` comes with its trip, the trip's season
    and organisation, its spots and their sites. Errors: those of `sky_of`."""
    sky = sky_of(night, entries_of(night.trip, night))
    months = SiteMonth.objects.filter(site=sky.spot.site_id, month=night.date.month)
    sites = {spot.site_id for spot in (night.spot, night.second_spot) if spot}
    return Draft(
        sky=sky,
        targets=with_pictures(targets_of(sky), sky),
        strip=night_picture(sky),
        skies=skies_of(sky),
        cold=cold_of_night(night, months),
        hazards=hazards_of(night, Hazard.objects.filter(site__in=sites)),
        tides=list(night.tides.all()),
        rotas=list(night.rotas.all()),
        instructors=list(night.trip.instructors.select_related("user")),
        notes=list(night.brief_notes.all()),
        now=now,
    )


def facts_of(draft: Draft, *, units: str = METRIC) -> Facts:
    """Give the brief that everybody may read."""
    sky, night, trip = draft.sky, draft.night, draft.night.trip
    here = [one for one in draft.hazards if one.spot_id in (None, sky.spot.pk)]
    return Facts(
        trip=trip.name,
        club=trip.organisation.name,
        evening=night.date.isoformat(),
        site=sky.spot.site.name,
        spot=sky.spot.name,
        zone=sky.zone,
        zone_words=_("Times of %(zone)s, %(offset)s")
        % {"zone": sky.zone, "offset": zone_words(sky.row, sky.zone)},
        ends_at=round(night.ends_at.timestamp()),
        glance=_glance(draft, units),
        dangers=dangers_of(night, sky.spot, here),
        first=first_frame(draft.targets, sky),
        targets=draft.targets,
        not_tonight=not_tonight(sky),
        rows=rows_of(sky, draft.targets, draft.tides),
        strip=draft.strip,
        skies=draft.skies,
        help=help_of(sky.spot, draft.instructors, units=units),
        texts=_texts(draft, here),
        rules=str(RULES),
        meet_geo=meet.geo if (meet := meeting_point_told(night)) else "",
        sunset_at=None if sky.row.sunset is None else round(sky.row.sunset.timestamp()),
        home_at=round((night.ends_at + timedelta(minutes=night.drive_minutes)).timestamp()),
        written={one.part: Written(one.text, one.is_instead) for one in draft.notes},
    )


def _glance(draft: Draft, units: str) -> Glance:
    night, sky = draft.night, draft.sky
    caller = str(draft.instructors[0]) if draft.instructors else _("who leads")
    return Glance(
        state=night.decision,
        decision=(silence(night, caller=caller, says_where=False),),
        meet_at=round(night.meeting_at.timestamp()),
        meet_clock=clock(night.meeting_at, sky.zone),
        meet_point=night.meeting_point,
        leave_by=_leave_by(night, sky),
        dark=dark_answer(sky),
        moon=moon_answer(sky),
        coldest=cold_answer(draft.cold, units),
    )


def _leave_by(night: TripNight, sky: BriefSky) -> str:
    """Give the hour at which people set out; "" where nobody knows how long the drive is.

    People meet where they were told, also where it goes on to the second spot from there.
    """
    drive = night.spot.site.drive_minutes
    if drive is None:
        return ""
    return clock(night.meeting_at - timedelta(minutes=drive) - LEAVE_EARLY, sky.zone)


def _texts(draft: Draft, here: Sequence[Hazard]) -> dict[str, Paragraphs]:
    night, sky = draft.night, draft.sky
    felt = draft.cold
    garment = "" if felt is None else garment_for(_felt(felt))
    return {
        "focus": texts.focus_text(sky),
        "foreground": texts.foreground_text(sky),
        "tracker": texts.tracker_text(sky),
        "turn": texts.turn_text(draft.rotas, sky.zone),
        "bring": tuple(filter(None, texts.bring_text(draft.cold, garment))),
        "cautions": texts.cautions_text(sky.spot.site, here),
        "way": texts.way_text(night, sky.spot),
        "permit": texts.permit_text(night, sky.spot, now=draft.now),
        "second": texts.second_text(night, draft.hazards),
    }


def _felt(cold: Cold) -> float:
    return cold.air.air_c if cold.wind_chill_c is None else cold.wind_chill_c
