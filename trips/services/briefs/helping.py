"""What can hurt people on a night, and where help is. Nothing here is guessed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import time, timedelta

from django.utils.translation import gettext as _

from trips.almanac.local_time import clock, local
from trips.almanac.places import describe_position, geo_of
from trips.models import Hazard, Site, Spot, TripInstructor, TripNight
from trips.planning.brief.facts import Call, Help, Paragraphs
from trips.services import emergency
from trips.services.briefs.units import height
from trips.services.cautions import DRIVING, NOTHING_WRITTEN_DOWN

MOST_DANGERS = 2
LATE = time(1)
NOON = time(12)


def dangers_of(night: TripNight, spot: Spot, hazards: Sequence[Hazard]) -> Paragraphs:
    """Give the few that come first: the tide, what is written down, the drive, the signal."""
    return tuple(_dangers(night, spot, hazards))


def _dangers(night: TripNight, spot: Spot, hazards: Sequence[Hazard]) -> Iterator[str]:
    site = spot.site
    if night.leave_spot_by is not None:
        words = _("The tide: everybody leaves the spot by %(time)s, whatever is in the frame.")
        yield words % {"time": clock(night.leave_spot_by, site.zone)}
    if not hazards:
        yield str(NOTHING_WRITTEN_DOWN)
    for hazard in sorted(hazards, key=lambda one: one.spot_id is None)[:MOST_DANGERS]:
        yield f"{hazard.get_kind_display().capitalize()}: {hazard.text}"
    if _is_late(night, site.zone):
        yield str(DRIVING)
    if site.phone_coverage != Site.Coverage.GOOD:
        yield signal_words(site)


def _is_late(night: TripNight, zone: str) -> bool:
    home = local(night.ends_at + timedelta(minutes=night.drive_minutes), zone)
    return LATE < home.time() < NOON


def signal_words(site: Site) -> str:
    """Say whether a phone works there, and where one does."""
    known = {
        Site.Coverage.GOOD: _("Phone signal: good."),
        Site.Coverage.PATCHY: _("Phone signal: patchy."),
        Site.Coverage.NONE: _("No phone signal here."),
    }
    said = known.get(
        Site.Coverage(site.phone_coverage), _("Nobody has written down whether phones work here.")
    )
    if not site.nearest_signal:
        return said
    return f"{said} {_('Signal: %(where)s.') % {'where': site.nearest_signal.rstrip('. ')}}"


def help_of(spot: Spot, instructors: Iterable[TripInstructor], *, units: str) -> Help:
    """Give whom to call and what to read out; a sensitive position stays with who leads."""
    site = spot.site
    return Help(
        number=site.emergency_number,
        signal=signal_words(site),
        position=_position(spot, units),
        geo="" if site.position_is_sensitive else geo_of(spot.latitude, spot.longitude),
        how=tuple(_how(site)),
        calls=tuple(Call(str(one), one.phone) for one in instructors if one.phone),
    )


def _position(spot: Spot, units: str) -> Paragraphs:
    name = f"{spot.name}, {spot.site.name}"
    if spot.site.position_is_sensitive:
        return name, _("The position is kept back: who leads has it, and reads it out.")
    where = describe_position(spot.latitude, spot.longitude)
    up = _("%(height)s above the sea") % {"height": height(spot.elevation_m, units)}
    return name, where, up


def _how(site: Site) -> Iterator[str]:
    if not site.emergency_number:
        yield emergency.words(site)
    if site.nearest_help:
        said = _("Nearest help: %(help)s.")
        if site.minutes_to_help is not None:
            said = _("Nearest help: %(help)s, %(minutes)d min.")
        yield said % {"help": site.nearest_help.rstrip(". "), "minutes": site.minutes_to_help or 0}
    yield _("Tell who leads first; they know who is where.")
