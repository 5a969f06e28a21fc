"""A night in one glance: when it is dark, what the Moon does, how cold it becomes."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.cold import TYPED, Cold
from trips.almanac.local_time import clock
from trips.almanac.path_words import moon_sentences
from trips.almanac.paths import moon_path
from trips.charts.night_words import hours_of
from trips.models import Night, TripNight
from trips.planning.brief.facts import Answer, Kept
from trips.services.briefs.sky import BriefSky
from trips.services.briefs.units import degrees
from trips.services.letter_kinds.written import named
from trips.services.night_words import (
    LEAST_HOURS,
    dark_hours,
    dark_of,
    lighter_levels,
    moonless_hours,
    no_dark,
)

# What a standing person wears, by what the air feels like in °C. Common practice, no published
# source.
GARMENTS = (
    (-10.0, gettext_lazy("Down jacket, two pairs of gloves, warm boots.")),
    (0.0, gettext_lazy("Winter jacket, hat, gloves, a layer under the trousers.")),
    (8.0, gettext_lazy("Winter jacket, hat, thin gloves.")),
    (15.0, gettext_lazy("Warm jacket and a hat.")),
)
LIGHT = gettext_lazy("A jacket more than by day: standing still is cold.")


def dark_answer(sky: BriefSky) -> Answer:
    """Say from when to when it is dark, and until when people stay."""
    until = _("We stay until %(time)s") % {"time": clock(sky.night.ends_at, sky.zone)}
    if dark_hours(sky.row, sky.level) < LEAST_HOURS:
        said = no_dark(sky.sun, sky.zone)
        return Answer(said, f"{lighter_levels(sky.row, sky.zone, sky.level)} {until}.".strip())
    spans = [
        _("%(start)s to %(end)s") % {"start": clock(start, sky.zone), "end": clock(end, sky.zone)}
        for start, end in dark_of(sky.row, sky.level)
    ]
    return Answer(_(" and ").join(spans), until)


def moon_answer(sky: BriefSky) -> Answer:
    """Say what the Moon does in the dark; under it how it looks."""
    row = sky.row
    dark, moonless = dark_hours(row, sky.level), moonless_hours(row, sky.level)
    if dark < LEAST_HOURS:
        path = moon_path(row, sky.spot.site)
        said = moon_sentences(path, sky.zone, dark_hours=dark, moonless_hours=moonless)
        return Answer(said[0], _capital(moon_shape(row)))
    return Answer(_in_the_dark(sky, dark, moonless), ", ".join(_looks(sky)))


def _in_the_dark(sky: BriefSky, dark: float, moonless: float) -> str:
    if dark - moonless < LEAST_HOURS:
        return _("None while it is dark")
    if moonless < LEAST_HOURS:
        return _("Up all through the dark")
    hours = {"hours": hours_of(moonless)}
    for start, end in dark_of(sky.row, sky.level):
        for at in sky.row.moonsets:
            if start < at < end:
                words = _("Sets at %(time)s, %(hours)s of dark after it")
                return words % {"time": clock(at, sky.zone), **hours}
        for at in sky.row.moonrises:
            if start < at < end:
                words = _("Up from %(time)s, %(hours)s of dark before it")
                return words % {"time": clock(at, sky.zone), **hours}
    return _("Up for part of the dark, %(hours)s without it") % hours


def _looks(sky: BriefSky) -> Iterator[str]:
    yield _capital(moon_shape(sky.row))
    for words, moments in (
        (_("sets %(time)s"), sky.row.moonsets),
        (_("rises %(time)s"), sky.row.moonrises),
    ):
        for at in moments:
            yield words % {"time": clock(at, sky.zone)}


def moon_shape(row: Night) -> str:
    """Give "thin crescent, 2 % lit"."""
    lit = row.moon_illuminated
    shapes = (
        (0.02, _("hardly any of it")), (0.2, _("thin crescent")), (0.45, _("crescent")),
        (0.55, _("half Moon")), (0.97, _("more than half")), (1.01, _("full")),
    )  # fmt: skip
    shape = next(words for most, words in shapes if lit < most)
    return _("%(shape)s, %(percent)d %% lit") % {"shape": shape, "percent": round(lit * 100)}


def cold_answer(cold: Cold | None, units: str) -> Answer:
    """Say how cold it becomes, what it feels like, and one garment."""
    if cold is None:
        return Answer(
            _("Not known yet"),
            _("No forecast yet. Dress for colder than you expect."),
        )
    felt = cold.wind_chill_c
    feels = "" if felt is None else _("Feels like %(cold)s.") % {"cold": degrees(felt, units)}
    how = _("By the forecast.") if cold.air.how == TYPED else _("Usual for the month.")
    garment = garment_for(cold.air.air_c if felt is None else felt)
    return Answer(degrees(cold.air.air_c, units), " ".join(filter(None, [feels, garment, how])))


def garment_for(felt_c: float) -> str:
    return str(next((words for least, words in GARMENTS if felt_c < least), LIGHT))


def called_off(glance: Kept) -> str:
    """Say of a night that does not go where people were to meet; "" of any other."""
    if glance["state"] != TripNight.Decision.NO_GO:
        return ""
    words = _("It was to be at %(time)s: %(point)s.")
    return words % {"time": glance["meet_clock"], "point": named(glance["meet_point"])}


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
