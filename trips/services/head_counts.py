"""Head counts: ticks taken in once each, however often a phone sends them, and their sum."""

from __future__ import annotations

import uuid
from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from django.db import transaction
from django.utils.translation import gettext as _

from trips.models import Enrolment, Tick, Trip, TripInstructor, TripNight, User
from trips.planning.head_count import Mark, Standing, standing
from trips.services.links import revoke
from trips.services.trip_history import note

# A phone's clock may run ahead, and a tick from the future would outlast every later one; or it
# may have been set to nothing, and its ticks would count for nothing. Both are taken as of now.
FASTEST_CLOCK, EARLIEST = timedelta(minutes=2), timedelta(days=2)
# Within this the same button pressed by the same leader is one press, on a slow network too.
SAME_PRESS = timedelta(minutes=1)
# A night is looked for from some hours before its meeting until the next morning.
BEFORE, AFTER = timedelta(hours=8), timedelta(hours=8)
EXPECTED = (Enrolment.State.PLACED, Enrolment.State.HELD)


@dataclass(frozen=True, slots=True)
class SentTick:
    """A tick as a phone sent it: `who` is a `Counted.key`."""

    client_uid: uuid.UUID
    who: str
    kind: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Refused:
    """A tick that no phone need send again, and why in one sentence."""

    client_uid: uuid.UUID
    why: str


@dataclass(frozen=True, slots=True)
class Taken:
    """What came of a post: every tick in `kept`, by its client's id, or `refused`."""

    kept: tuple[uuid.UUID, ...]
    refused: tuple[Refused, ...]


@dataclass(frozen=True, slots=True)
class Counted:
    """A person to count: a participant (`p12`) or a leader (`l3`)."""

    key: str
    name: str
    leads: bool
    phone: str
    emergency: str
    standing: Standing


def night_now(trip: Trip, *, now: datetime) -> TripNight | None:
    """Give the night that is on, else the next one, else the last."""
    nights: list[TripNight] = list(trip.nights.select_related("spot__site").order_by("date"))
    on = [one for one in nights if one.meeting_at - BEFORE <= now <= one.ends_at + AFTER]
    coming = [one for one in nights if one.meeting_at > now]
    # Of two that overlap the later one is being prepared, and the earlier one is over only when
    # it is closed.
    unclosed = [one for one in on if one.closed_at is None]
    return next(iter([*unclosed, *on, *coming, *nights[::-1]]), None)


def people_of(night: TripNight) -> list[Counted]:
    """Give everybody who is expected, participants by name, then leaders, as they stand now."""
    marks = marks_of([night])[night.pk]
    enrolments = night.trip.enrolments.filter(state__in=EXPECTED).select_related("person")
    participants = [_participant(row, marks) for row in enrolments]
    leaders = [
        _leader(row, marks) for row in night.trip.instructors.select_related("user").order_by("pk")
    ]
    return [*sorted(participants, key=lambda one: one.name.casefold()), *leaders]


def take(
    ticks: Sequence[SentTick], *, night: TripNight, by: TripInstructor, now: datetime
) -> Taken:
    """Keep each tick once. A post that is repeated, whole or in part, changes nothing."""
    known = _keys(night.trip)
    ours = [tick for tick in ticks if tick.who in known]
    Tick.objects.bulk_create((_row(tick, night, by, now) for tick in ours), ignore_conflicts=True)
    stored = _stored(ours, night)
    kept = [tick for tick in ours if stored.get(tick.client_uid) == (tick.who, tick.kind)]
    held = set(kept)
    refused = [_refused(tick, known) for tick in ticks if tick not in held]
    return Taken(tuple(tick.client_uid for tick in kept), tuple(refused))


def press(tick: SentTick, *, night: TripNight, by: TripInstructor, now: datetime) -> None:
    """Keep the press of a button. Pressed twice at once it is one tick.

    A page that was gone back to carries the id of a press that is kept already: what is pressed
    there is another tick, with an id that follows from that one and from the person's last.
    """
    of_person = [one for one in Tick.objects.filter(night=night) if _key(one) == tick.who]
    last = max(of_person, key=lambda one: (one.received_at, one.pk), default=None)
    if last is not None and _is_repeated(tick, last, by, now):
        return
    if last is not None and any(one.client_uid == tick.client_uid for one in of_person):
        tick = replace(tick, client_uid=uuid.uuid5(tick.client_uid, str(last.client_uid)))
    take([tick], night=night, by=by, now=now)


def _is_repeated(tick: SentTick, last: Tick, by: TripInstructor, now: datetime) -> bool:
    same = last.kind == tick.kind and last.instructor_id == by.pk
    return same and now - last.received_at <= SAME_PRESS


def _refused(tick: SentTick, known: Container[str]) -> Refused:
    if tick.who not in known:
        return Refused(tick.client_uid, _("This person is not on this trip any more."))
    return Refused(tick.client_uid, _("This mark cannot be kept: count the person again."))


def _stored(ticks: Iterable[SentTick], night: TripNight) -> dict[uuid.UUID, tuple[str, str]]:
    """Give of whom and what the marks with these ids are: an id may have been used for another."""
    rows = Tick.objects.filter(night=night, client_uid__in=[tick.client_uid for tick in ticks])
    return {row.client_uid: (_key(row), row.kind) for row in rows}


def _key(tick: Tick) -> str:
    return f"p{tick.enrolment_id}" if tick.enrolment_id else f"l{tick.leader_id}"


def _row(tick: SentTick, night: TripNight, by: TripInstructor, now: datetime) -> Tick:
    is_told = night.meeting_at - EARLIEST <= tick.at <= now + FASTEST_CLOCK
    return Tick(
        client_uid=tick.client_uid,
        night=night,
        instructor=by,
        kind=tick.kind,
        at=tick.at if is_told else now,
        received_at=now,
        **{"enrolment_id" if tick.who[0] == "p" else "leader_id": int(tick.who[1:])},
    )


def _keys(trip: Trip) -> set[str]:
    """Give everybody who may be ticked: who has a place or had one that night, and who leads."""
    people = trip.enrolments.exclude(place=None).values_list("pk", flat=True)
    leaders = trip.instructors.values_list("pk", flat=True)
    return {*(f"p{pk}" for pk in people), *(f"l{pk}" for pk in leaders)}


def marks_of(nights: Iterable[TripNight]) -> dict[int, dict[str, list[Mark]]]:
    """Give the ticks of nights, by night and by whom they are of, in one query."""
    marks: dict[int, dict[str, list[Mark]]] = {night.pk: {} for night in nights}
    for tick in Tick.objects.filter(night__in=marks).select_related("instructor__user"):
        mark = Mark(tick.kind, tick.at, str(tick.instructor))
        marks[tick.night_id].setdefault(_key(tick), []).append(mark)
    return marks


def _participant(row: Enrolment, marks: dict[str, list[Mark]]) -> Counted:
    person, key = row.person, f"p{row.pk}"
    emergency = " ".join(filter(None, [person.emergency_name, person.emergency_phone]))
    return Counted(key, person.name, False, person.phone, emergency, standing(marks.get(key, [])))


def _leader(row: TripInstructor, marks: dict[str, list[Mark]]) -> Counted:
    key = f"l{row.pk}"
    return Counted(key, str(row), True, row.phone, "", standing(marks.get(key, [])))


@transaction.atomic
def renew_link(leader: TripInstructor, *, by: User, now: datetime) -> None:
    """Make an instructor's head-count link useless; the next one is theirs alone again."""
    if note(leader.trip, "count_link_renewed", at=now, by=by, instructor=leader.pk):
        revoke(leader)
