"""What a brief still lacks before people can rely on it, and where each is mended."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.almanac.cold import TYPED
from trips.models import Enrolment, TripNight
from trips.planning.brief.facts import Facts
from trips.services.briefs.drafts import Draft
from trips.services.tides import why_not_confirmed


@dataclass(frozen=True, slots=True)
class Lack:
    """`where` it is mended: night, decision, tides, weather, site, spot, skyline, instructors,
    targets or people. Each is a page, or a place on one."""

    words: str
    where: str


def lacks_of(draft: Draft, facts: Facts) -> list[Lack]:
    """Say what is missing, the gravest first; of a night that is over, that alone. One query, one
    more on a coast."""
    night = draft.night
    if night.ends_at <= draft.now:
        words = _("This night is over: nobody is mailed, and no personal plan is made any more.")
        return [Lack(words, "night")]
    return [
        *_of_decision(night),
        *_of_place(facts),
        *_of_people(night),
        *_of_sky(draft, facts),
        *_of_cold(draft),
    ]


def _of_decision(night: TripNight) -> Iterator[Lack]:
    if night.decision_at is None:
        yield Lack(_("The hour of the decision is not settled."), "decision")
    if not night.decision_place:
        yield Lack(_("Where it is decided is not settled."), "decision")
    if not night.meeting_point:
        yield Lack(_("Where people meet is not settled."), "night")
    for words in why_not_confirmed([night]):
        yield Lack(words, "tides")


def _of_place(facts: Facts) -> Iterator[Lack]:
    if not facts.help.number:
        yield Lack(_("Nobody has confirmed the emergency number of the site."), "site")
    if not facts.help.calls:
        yield Lack(_("Nobody who leads has a phone number here."), "instructors")


def _of_people(night: TripNight) -> Iterator[Lack]:
    if not Enrolment.objects.filter(trip=night.trip_id).coming().exists():
        words = _("Nobody has a place yet. It can be published: whoever gets one then reads it.")
        yield Lack(words, "people")


def _of_sky(draft: Draft, facts: Facts) -> Iterator[Lack]:
    if not draft.sky.spot.skyline:
        words = _("The spot has no skyline: heights are from level, and nothing hides a target.")
        yield Lack(words, "skyline")
    if not any(one.is_seen_at_night for one in draft.sky.landmarks):
        words = _("No landmark is seen at night: directions are by the compass only.")
        yield Lack(words, "spot")
    if not facts.targets:
        yield Lack(_("No target can be taken this night."), "targets")


def _of_cold(draft: Draft) -> Iterator[Lack]:
    if draft.cold is None:
        yield Lack(_("Nobody has typed a forecast: how cold it becomes is not known."), "weather")
    elif draft.cold.air.how != TYPED:
        words = _("Nobody has typed a forecast: the cold is the usual one of %(month)s here.")
        yield Lack(words % {"month": date_format(draft.night.date, "F")}, "weather")
