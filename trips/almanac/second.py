"""What a second computation by other code says of a stored night, in a sentence."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from math import ceil

from django.utils.text import get_text_list
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky import night as values
from sky.second_opinion import Difference, SecondOpinion, second_opinion
from sky.spans import Span
from trips.almanac.local_time import clock
from trips.almanac.places import place_of
from trips.models import Night, Site

KINDS = {
    "sun": gettext_lazy("Sun"),
    "twilight": gettext_lazy("twilight"),
    "moon": gettext_lazy("Moon"),
}
NAMES = {
    "sunset": gettext_lazy("sunset"),
    "civil_dusk": gettext_lazy("civil dusk"),
    "nautical_dusk": gettext_lazy("nautical dusk"),
    "astronomical_dusk": gettext_lazy("astronomical dusk"),
    "astronomical_dawn": gettext_lazy("astronomical dawn"),
    "nautical_dawn": gettext_lazy("nautical dawn"),
    "civil_dawn": gettext_lazy("civil dawn"),
    "sunrise": gettext_lazy("sunrise"),
    "moonrises": gettext_lazy("moonrise"),
    "moonsets": gettext_lazy("moonset"),
}


def second_words(row: Night, site: Site) -> str:
    """Say whether the times agree with the second computation, which differ, or why not asked.

    For fresh nights only: a stale one was computed for another position. Errors: those of Place.
    """
    opinion = second_opinion(place_of(site), [night_of(row)])
    return " ".join(_sentences(opinion, site.zone))


def night_of(row: Night) -> values.Night:
    """Give a stored row as sky's value."""
    return values.Night(
        date=row.date,
        span=Span(row.start, row.end),
        sunset=row.sunset,
        civil_dusk=row.civil_dusk,
        nautical_dusk=row.nautical_dusk,
        astronomical_dusk=row.astronomical_dusk,
        astronomical_dawn=row.astronomical_dawn,
        nautical_dawn=row.nautical_dawn,
        civil_dawn=row.civil_dawn,
        sunrise=row.sunrise,
        moonrises=tuple(datetime.fromtimestamp(at, UTC) for at in row.moonrises),
        moonsets=tuple(datetime.fromtimestamp(at, UTC) for at in row.moonsets),
        moon_illuminated=row.moon_illuminated,
        moon_waxing=row.moon_waxing,
        dark={},
        moonless={},
        dark_hours={},
        moonless_hours={},
        absent=row.absent,
    )


def _sentences(opinion: SecondOpinion, zone: str) -> Iterator[str]:
    if "latitude_beyond_60" in opinion.skipped:
        yield _(
            "The times were not held against a second computation: it is not to be trusted"
            " beyond 60° of latitude."
        )
        return
    if opinion.differences:
        said = [_difference(each, zone) for each in opinion.differences]
        yield _("A second computation differs: %(differences)s.") % {"differences": "; ".join(said)}
    elif opinion.compared:
        yield _("Times of %(kinds)s agree with a second computation within %(seconds)d s.") % {
            "kinds": get_text_list([str(KINDS[kind]) for kind in opinion.largest], _("and")),
            "seconds": max(1, ceil(max(opinion.largest.values()))),
        }
    else:
        yield _("No time of this night was held against a second computation.")
    if opinion.skipped.get("sun_moves_slowly"):
        yield _("Where the Sun moves slowly it was not asked: a small difference is long there.")
    if opinion.unanswered:
        yield _("For some it had no answer.")


def _difference(difference: Difference, zone: str) -> str:
    name = str(NAMES[difference.event])
    if difference.seconds is None:
        time = clock(difference.theirs, zone)
        return _("it has a %(event)s at %(time)s") % {"event": name, "time": time}
    return _("%(event)s by %(seconds)d s") % {"event": name, "seconds": round(difference.seconds)}
