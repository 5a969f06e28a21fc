"""Another library's answer beside ours: a check by different code, never a source of ours.

Astral is asked with elevation 0: given an elevation it adds the dip of the horizon, which is
minutes at a mountain site and not what published tables do.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from astral import Observer, SunDirection, moon, sun

from sky.night import Night
from sky.place import Place

# What the two may differ by, in seconds: measured for 2027 between 40° N and 57° N.
ALLOWED_SECONDS = {"sun": 60.0, "twilight": 30.0, "moon": 120.0}
# Beyond, Astral's moonrise can be a day off.
HIGHEST_LATITUDE = 60.0
# Below this many degrees an hour a small difference in altitude is a large one in time.
LEAST_RATE = 5.0
# Two instants further apart than this are not the same event.
SAME_EVENT = timedelta(hours=3)

Ask = Callable[[Observer, date], datetime | None]


def _twilight(depression: float, direction: SunDirection) -> Ask:
    """Ask for the Sun's centre at a geometric depression.

    Astral's own dusk and dawn add refraction below the horizon, where twilight has none: up to
    0.055°, which at 57° of latitude is 42 s.
    """
    return lambda observer, day: sun.time_at_elevation(
        observer, -depression, day, direction, with_refraction=False
    )


SUN_QUESTIONS: Mapping[str, Ask] = {
    "sunset": sun.sunset,
    "civil_dusk": _twilight(6, SunDirection.SETTING),
    "nautical_dusk": _twilight(12, SunDirection.SETTING),
    "astronomical_dusk": _twilight(18, SunDirection.SETTING),
    "astronomical_dawn": _twilight(18, SunDirection.RISING),
    "nautical_dawn": _twilight(12, SunDirection.RISING),
    "civil_dawn": _twilight(6, SunDirection.RISING),
    "sunrise": sun.sunrise,
}
MOON_QUESTIONS: Mapping[str, Ask] = {"moonrises": moon.moonrise, "moonsets": moon.moonset}


@dataclass(frozen=True, slots=True)
class Difference:
    """An event on which the two disagree by more than is allowed; `ours` None: only theirs."""

    night: date
    event: str
    ours: datetime | None
    theirs: datetime

    @property
    def seconds(self) -> float | None:
        return None if self.ours is None else abs((self.ours - self.theirs).total_seconds())


@dataclass(frozen=True, slots=True)
class SecondOpinion:
    """How a season compares: events compared, where they differ, and what was not compared.

    `largest` kind (sun, twilight, moon) → the largest difference in seconds among those compared.
    `skipped` reason → events left out: `latitude_beyond_60`, `sun_moves_slowly`.
    `unanswered` events of ours for which Astral has no answer on any day near: counted, no fault.
    """

    compared: int
    differences: tuple[Difference, ...]
    largest: Mapping[str, float]
    skipped: Mapping[str, int]
    unanswered: int

    @property
    def agrees(self) -> bool:
        return not self.differences


def second_opinion(place: Place, nights: Sequence[Night]) -> SecondOpinion:
    """Compare computed nights of one place with Astral's, event by event.

    Nothing is compared beyond 60° of latitude: every event is then counted as skipped. An event
    of the Sun is skipped where the Sun moves by at most 5° an hour.
    """
    if abs(place.latitude) > HIGHEST_LATITUDE:
        return _beyond(nights)
    observer = Observer(place.latitude, place.longitude, 0.0)
    tally = _Tally()
    for event, ask in {**SUN_QUESTIONS, **MOON_QUESTIONS}.items():
        answers = _answers(ask, observer, nights)
        for night in nights:
            _compare(tally, observer, night, event, answers)
    return tally.result()


def _beyond(nights: Sequence[Night]) -> SecondOpinion:
    events = SUN_QUESTIONS.keys() | MOON_QUESTIONS.keys()
    count = sum(len(_ours(night, event)) for night in nights for event in events)
    return SecondOpinion(0, (), {}, {"latitude_beyond_60": count}, 0)


class _Tally:
    """Gathers the comparison while it is made."""

    def __init__(self) -> None:
        self.compared = 0
        self.unanswered = 0
        self.differences: list[Difference] = []
        self.largest: dict[str, float] = {}
        self.skipped: Counter[str] = Counter()

    def add(self, night: Night, event: str, ours: datetime, theirs: datetime) -> None:
        kind, seconds = _kind(event), abs((ours - theirs).total_seconds())
        self.compared += 1
        self.largest[kind] = max(self.largest.get(kind, 0.0), seconds)
        if seconds > ALLOWED_SECONDS[kind]:
            self.differences.append(Difference(night.date, event, ours, theirs))

    def result(self) -> SecondOpinion:
        return SecondOpinion(
            self.compared, tuple(self.differences), self.largest, self.skipped, self.unanswered
        )


def _compare(
    tally: _Tally, observer: Observer, night: Night, event: str, answers: Sequence[datetime]
) -> None:
    ours = _ours(night, event)
    for instant in ours:
        theirs = min(answers, key=lambda answer: abs(answer - instant), default=None)
        if _is_slow(observer, event, instant):
            tally.skipped["sun_moves_slowly"] += 1
        elif theirs is None or abs(theirs - instant) > SAME_EVENT:
            tally.unanswered += 1
        else:
            tally.add(night, event, instant, theirs)
    for theirs in _only_theirs(night, event, ours, answers):
        if not _is_slow(observer, event, theirs):
            tally.differences.append(Difference(night.date, event, None, theirs))


def _only_theirs(
    night: Night, event: str, ours: Sequence[datetime], answers: Sequence[datetime]
) -> Iterator[datetime]:
    """Give Astral's events well inside the night that we do not have."""
    edge = timedelta(seconds=ALLOWED_SECONDS[_kind(event)])
    for answer in answers:
        inside = night.span.start + edge <= answer < night.span.end - edge
        if inside and all(abs(answer - instant) > SAME_EVENT for instant in ours):
            yield answer


def _answers(ask: Ask, observer: Observer, nights: Sequence[Night]) -> list[datetime]:
    """Ask once for each UTC date that the nights touch; a day without an answer gives none."""
    days = {
        night.span.start.date() + timedelta(days=ahead) for night in nights for ahead in range(3)
    }
    found = [_answer(ask, observer, day) for day in sorted(days)]
    return [answer for answer in found if answer is not None]


def _answer(ask: Ask, observer: Observer, day: date) -> datetime | None:
    try:
        return ask(observer, day)
    except ValueError:
        return None


def _is_slow(observer: Observer, event: str, instant: datetime) -> bool:
    if event in MOON_QUESTIONS:
        return False
    minute = timedelta(minutes=1)
    before, after = (
        sun.elevation(observer, instant + step, with_refraction=False) for step in (-minute, minute)
    )
    return abs(after - before) * 30 <= LEAST_RATE


def _ours(night: Night, event: str) -> tuple[datetime, ...]:
    if event in MOON_QUESTIONS:
        found: tuple[datetime, ...] = getattr(night, event)
        return found
    instant: datetime | None = getattr(night, event)
    return () if instant is None else (instant,)


def _kind(event: str) -> str:
    if event in MOON_QUESTIONS:
        return "moon"
    return "sun" if event in ("sunset", "sunrise") else "twilight"
