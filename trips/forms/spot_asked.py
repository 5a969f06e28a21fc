"""What the address of a spot's page asks for: targets over the skyline, and of which night.

Several targets are parted by semicolons: two angles already hold commas and spaces.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.http import QueryDict
from django.utils.translation import gettext as _

from trips.almanac.targets import Target, find_target
from trips.almanac.tracks import has_track
from trips.almanac.wording import SkyError, sentence

MOST_TARGETS = 6
LONGEST = 80


@dataclass(frozen=True, slots=True)
class Asked:
    """The targets that are known, the night if one is meant, and what could not be read."""

    targets: tuple[Target, ...]
    night: date | None
    typed: str
    typed_night: str
    mistakes: tuple[str, ...]


def read_asked(asked: QueryDict) -> Asked:
    typed = [name.strip() for text in asked.getlist("target") for name in text.split(";")]
    names = [name[:LONGEST] for name in typed if name]
    mistakes = []
    targets = []
    for name in names[:MOST_TARGETS]:
        try:
            targets.append(_with_track(find_target(name)))
        except SkyError as error:
            mistakes.append(sentence(error))
    if len(names) > MOST_TARGETS:
        mistakes.append(_("The first %(most)d targets are shown.") % {"most": MOST_TARGETS})
    typed_night = asked.get("night", "").strip()[:LONGEST]
    night = _date(typed_night)
    if typed_night and night is None:
        words = _("“%(night)s” is not a date; write it like 2027-03-09.")
        mistakes.append(words % {"night": typed_night})
    return Asked(
        tuple({target.key: target for target in targets}.values()),
        night,
        "; ".join(names[:MOST_TARGETS]),
        typed_night,
        tuple(mistakes),
    )


def _with_track(target: Target) -> Target:
    if not has_track(target):
        raise SkyError("target_without_track", name=target.name)
    return target


def _date(typed: str) -> date | None:
    try:
        return date.fromisoformat(typed)
    except ValueError:
        return None
