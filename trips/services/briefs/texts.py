"""The parts of a brief that are paragraphs: how to focus and set up, what to bring, how to go."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from trips.almanac.cold import Cold
from trips.almanac.cold_words import COLD
from trips.almanac.focus_words import STEPS, beginning_words, by_day_words, focus_rows
from trips.almanac.foreground import times_words
from trips.almanac.local_time import clock, night_at
from trips.almanac.set_up import set_up_of
from trips.models import Hazard, Rota, Site, Spot, TripNight
from trips.planning.brief.facts import Paragraphs
from trips.planning.cold_advice import advice
from trips.services.briefs.rows import within
from trips.services.briefs.sky import BriefSky
from trips.services.cautions import NOTHING_WRITTEN_DOWN, cautions
from trips.services.night_words import LEAST_HOURS, dark_hours
from trips.services.site_words import access_words

# Common practice, no published source.
ALWAYS = (
    gettext_lazy("Red light with a dim setting, and a second one."),
    gettext_lazy("Water, something to eat, a charged phone."),
)
LASERS = gettext_lazy(
    "Lasers: only who leads points one, never near aircraft, vehicles or people, and only where "
    "local rules allow it."
)
EARLY = gettext_lazy("Whoever leaves early tells who leads first, and is counted out.")
STEPS_TOLD = 4
NOTES_TOLD = 2  # the last of them are for the eye at the tripod


def focus_text(sky: BriefSky) -> Paragraphs:
    """Say which star from when on, then the way by day and how it is done."""
    rows = [row for row in focus_rows(sky.focus, sky.landmarks, sky.zone) if row.first][:1]
    words = _("At %(at)s: %(star)s, %(fists)s (%(degrees)s).")
    stars = [
        words % {"at": row.at, "star": row.first.name, "fists": row.first.fists,
                 "degrees": row.first.degrees}
        for row in rows if row.first
    ]  # fmt: skip
    first = stars or [beginning_words(sky.focus, sky.zone)]
    by_day = _("By day. %(words)s") % {"words": by_day_words(sky.landmarks)}
    return (*first, *map(str, STEPS[:STEPS_TOLD]), by_day)


def foreground_text(sky: BriefSky) -> Paragraphs:
    """Say when the land has light, and why it has none."""
    return _by_twilight(sky), _by_moon(sky)


def _by_twilight(sky: BriefSky) -> str:
    spans = list(within(sky.foreground.twilight, sky.out))
    if not spans:
        return _("Twilight: none while we are out; the Sun is then not 6° to 12° down.")
    return _(
        "Twilight: %(times)s. Take frames of the land then, to join with those of the sky."
    ) % {"times": times_words(spans, sky.zone)}


def _by_moon(sky: BriefSky) -> str:
    spans = list(within(sky.foreground.moonlit, sky.out))
    if spans:
        words = _("Moonlit: %(times)s, and stars are left.")
        return words % {"times": times_words(spans, sky.zone)}
    lit = round(sky.row.moon_illuminated * 100)
    words = _(
        "Moonlit: none while we are out. The Moon is %(percent)d %% lit, and never stands then so "
        "that it lights the land and leaves the stars."
    )
    return words % {"percent": lit}


def tracker_text(sky: BriefSky) -> Paragraphs:
    """Say how an axis is set at the first target's hour, else at the beginning of the dark."""
    at = _set_up_at(sky)
    if at is None:
        return (_("It does not get dark enough to set an axis by a star."),)
    found = set_up_of(sky.spot.site, sky.spot, sky.night.date, at)
    lines = [f"{name}: {value}." for name, value in found.lines if name != _("Hour angle")]
    hour = _("At %(time)s:") % {"time": clock(at, sky.zone)}
    return (hour, *lines, *found.notes[-NOTES_TOLD:], *found.needle.sentences[:1])


def _set_up_at(sky: BriefSky) -> datetime | None:
    if dark_hours(sky.row, -12) < LEAST_HOURS:
        return None
    seconds = sky.placed[0].start if sky.placed else sky.night.ends_at.timestamp()
    return datetime.fromtimestamp(seconds, sky.night.meeting_at.tzinfo)


def turn_text(rotas: Iterable[Rota], zone: str) -> Paragraphs:
    """Say that there are turns; whose turn is when, each finds on their own page."""
    words = _("Turns at %(what)s, %(start)s–%(end)s: yours is on your own page.")
    return tuple(
        words % {"what": rota.what, "start": clock(rota.starts_at, zone),
                 "end": clock(rota.ends_at, zone)}
        for rota in rotas
    )  # fmt: skip


def bring_text(cold: Cold | None, garment: str) -> Paragraphs:
    air = cold.air.air_c if cold else None
    return (garment, *map(str, ALWAYS), *(str(COLD[code][0]) for code in advice(cold, air)))


def cautions_text(site: Site, hazards: Sequence[Hazard]) -> Paragraphs:
    """Give each danger with the usual caution of its kind."""
    told = [
        " ".join([f"{one.title[:1].upper()}{one.title[1:]}:", *map(_ended, one.seen), one.advice])
        for one in cautions(site, list(hazards))
    ]
    unknown = () if hazards else (str(NOTHING_WRITTEN_DOWN),)
    return (*unknown, *told, str(LASERS), str(EARLY))


def way_text(night: TripNight, spot: Spot) -> Paragraphs:
    """Say how long, with which car, how far on foot, and when to be home."""
    return tuple(_way(night, spot))


def _way(night: TripNight, spot: Spot) -> Iterator[str]:
    site, zone = spot.site, spot.site.zone
    if site.drive_minutes is not None:
        yield _("%(minutes)d min by car.") % {"minutes": site.drive_minutes}
    if site.vehicle != Site.Vehicle.ANY:
        yield _("Vehicle: %(vehicle)s.") % {"vehicle": site.get_vehicle_display()}
    if spot.walk_minutes:
        words = ngettext(
            "%(minutes)d minute on foot to the spot.", "%(minutes)d minutes on foot to the spot.",
            spot.walk_minutes,
        )  # fmt: skip
        yield words % {"minutes": spot.walk_minutes}
    home = night.ends_at + timedelta(minutes=night.drive_minutes)
    yield _("Tell somebody at home: back by about %(time)s.") % {"time": clock(home, zone)}


def permit_text(night: TripNight, spot: Spot, *, now: datetime) -> Paragraphs:
    today = night_at(now, spot.site.zone)
    words = access_words(spot.site, night.date, today=today)
    return (_ended(words[:1].upper() + words[1:]),)


def second_text(night: TripNight, hazards: Iterable[Hazard]) -> Paragraphs:
    """Say where else it could go, with the dangers there."""
    spot = night.second_spot
    if spot is None:
        return (_("None is settled: if it cannot be here, it is nowhere."),)
    if night.decision == TripNight.Decision.SECOND:
        return (_("That is where we go: all on this page is told from there."),)
    where = _("%(spot)s, %(site)s.") % {"spot": spot.name, "site": spot.site.name}
    seen = [_ended(one.text) for one in hazards if one.spot_id == spot.pk]
    return (where, *way_text(night, spot)[:-1], *seen)


def _ended(words: str) -> str:
    return words if words.rstrip().endswith((".", "!", "?", "…")) else f"{words.rstrip()}."
