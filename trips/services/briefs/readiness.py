"""What a brief still lacks before people can rely on it, and where each is mended."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from trips.models import TripNight
from trips.planning.brief.facts import Facts
from trips.services.briefs.drafts import Draft
from trips.services.tides import why_not_confirmed


@dataclass(frozen=True, slots=True)
class Lack:
    """`where` it is mended: night, site, spot or trip."""

    words: str
    where: str


def lacks_of(draft: Draft, facts: Facts) -> list[Lack]:
    """Say what is missing, the gravest first."""
    return [*_of_night(draft.night), *_of_place(facts), *_of_sky(draft, facts)]


def _of_night(night: TripNight) -> Iterator[Lack]:
    if night.decision_at is None:
        yield Lack(_("The hour of the decision is not settled."), "night")
    if not night.decision_place:
        yield Lack(_("Where it is decided is not settled."), "night")
    if not night.meeting_point:
        yield Lack(_("Where people meet is not settled."), "night")
    for words in why_not_confirmed([night]):
        yield Lack(words, "night")


def _of_place(facts: Facts) -> Iterator[Lack]:
    if not facts.help.number:
        yield Lack(_("Nobody has confirmed the emergency number of the site."), "site")
    if not facts.help.calls:
        yield Lack(_("Nobody who leads has a phone number here."), "trip")


def _of_sky(draft: Draft, facts: Facts) -> Iterator[Lack]:
    spot = draft.sky.spot
    if not any(one.is_seen_at_night for one in spot.landmarks.all()):
        words = _("No landmark is seen at night: directions are by the compass only.")
        yield Lack(words, "spot")
    if not facts.targets:
        yield Lack(_("No target can be taken this night."), "trip")
