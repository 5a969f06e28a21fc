"""Turns of a night: shared out, given to who comes later, exchanged, put away.

A slot stays with the person it was given to when somebody else drops out; who joins later takes
one that is free. Only sharing again moves people.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.models import Enrolment, Rota, TripNight, Turn, User
from trips.planning.rota import SHORTEST, RotaTooShortError, slots, turned
from trips.services.briefs.anew import forget_plans_of
from trips.services.head_counts import EXPECTED
from trips.services.refusals import TripRefusedError
from trips.services.trip_history import note

MOST_OF_A_NIGHT = 10


def propose_rota(night: TripNight) -> Rota:
    """Give a rota to begin a form with: the night from the meeting on, the spot's tripods."""
    return Rota(
        night=night,
        starts_at=night.meeting_at,
        ends_at=night.ends_at,
        stations=night.spot.tripods or 1,
    )


@transaction.atomic
def save_rota(rota: Rota, *, by: User, now: datetime) -> None:
    """Save the rota and share it out anew; the very same one again is the one that is there.

    Errors: `TripRefusedError`.
    """
    night = rota.night
    is_new = rota.pk is None
    if is_new and _is_there(rota):
        return
    if is_new and night.rotas.count() >= MOST_OF_A_NIGHT:
        words = _("%(most)d rotas are the most of a night: remove one that is not needed.")
        raise TripRefusedError(words % {"most": MOST_OF_A_NIGHT})
    rota.save()
    _share(rota, _in_order(night))
    note(night.trip, "turns_shared", at=now, by=by, night=night.pk, date=f"{night.date}")


def _is_there(rota: Rota) -> bool:
    same = {name: getattr(rota, name) for name in ("what", "starts_at", "ends_at", "stations")}
    return rota.night.rotas.filter(**same).exists()


@transaction.atomic
def share_again(rota: Rota, *, by: User, now: datetime) -> None:
    """Share the same time out among those who come now. Errors: `TripRefusedError`."""
    _share(rota, _in_order(rota.night))
    night = rota.night
    note(night.trip, "turns_shared", at=now, by=by, night=night.pk, date=f"{night.date}")


@transaction.atomic
def exchange(first: Turn, second: Turn) -> None:
    """Let two people of one rota change places. Errors: `TripRefusedError`."""
    if first.rota_id != second.rota_id:
        raise TripRefusedError(_("Those two turns are not of one rota: choose both from one."))
    if first.pk == second.pk:
        return
    slot = (first.starts_at, first.ends_at, first.station)
    other = (second.starts_at, second.ends_at, second.station)
    forget_plans_of(first.rota.night)
    # Put away and made anew: between two updates both would stand in one place.
    rota, people = first.rota, (first.enrolment_id, second.enrolment_id)
    Turn.objects.filter(pk__in=[first.pk, second.pk]).delete()
    for person, (starts, ends, station) in zip(people, (other, slot), strict=True):
        Turn.objects.create(
            rota=rota, enrolment_id=person, starts_at=starts, ends_at=ends, station=station
        )


@transaction.atomic
def remove_rota(rota: Rota, *, by: User, now: datetime) -> None:
    night = rota.night
    forget_plans_of(night)
    rota.delete()
    note(night.trip, "turns_removed", at=now, by=by, night=night.pk, date=f"{night.date}")


@transaction.atomic
def give_free(rota: Rota, *, by: User, now: datetime) -> int:
    """Give those without a turn the slots that are free, those of who no longer comes too; tell
    how many still have none."""
    rota.turns.exclude(enrolment__state__in=EXPECTED).delete()
    turns = list(rota.turns.all())
    having = {turn.enrolment_id for turn in turns}
    without = [one for one in _people(rota.night) if one.pk not in having]
    free = _free(rota, turns)
    given = list(zip(without, free, strict=False))
    Turn.objects.bulk_create(
        Turn(rota=rota, enrolment=person, starts_at=starts, ends_at=ends, station=station)
        for person, (starts, ends, station) in given
    )
    forget_plans_of(rota.night)
    if given:
        night = rota.night
        note(night.trip, "turns_given", at=now, by=by, night=night.pk, date=f"{night.date}")
    return len(without) - len(given)


def without_turn(enrolments: Iterable[Enrolment], turns: Iterable[Turn]) -> list[Enrolment]:
    """Give who is expected and has no turn among these."""
    having = {turn.enrolment_id for turn in turns}
    return [one for one in enrolments if one.state in EXPECTED and one.pk not in having]


def _free(rota: Rota, turns: list[Turn]) -> list[tuple[datetime, datetime, int]]:
    """Give the slots that nobody has, as long as the others: of all that the time holds."""
    if not turns:
        return []
    length = turns[0].ends_at - turns[0].starts_at
    taken = {(turn.starts_at, turn.station) for turn in turns}
    rounds = (rota.ends_at - rota.starts_at) // length
    every = (
        (rota.starts_at + n * length, station)
        for n in range(rounds)
        for station in range(1, rota.stations + 1)
    )
    return [(at, at + length, station) for at, station in every if (at, station) not in taken]


def _share(rota: Rota, people: list[Enrolment]) -> None:
    try:
        shared = slots(people, first=rota.starts_at, last=rota.ends_at, stations=rota.stations)
    except RotaTooShortError as error:
        raise TripRefusedError(_too_short(rota, len(people), error)) from error
    forget_plans_of(rota.night)
    rota.turns.all().delete()
    Turn.objects.bulk_create(
        Turn(
            rota=rota,
            enrolment=slot.person,
            starts_at=slot.first,
            ends_at=slot.last,
            station=slot.station,
        )
        for slot in shared
    )


def _too_short(rota: Rota, people: int, error: RotaTooShortError) -> str:
    said = {
        "people": people,
        "minutes": (rota.ends_at - rota.starts_at) // timedelta(minutes=1),
        "shortest": SHORTEST // timedelta(minutes=1),
        "served": error.people,
        "stations": error.stations,
    }
    if not error.stations:
        words = _("%(minutes)d min are too short for any turn: give at least %(shortest)d.")
        return words % said
    words = ngettext(
        "%(minutes)d min serve %(served)d of %(people)d people with turns of %(shortest)d min: "
        "give more time, or let %(stations)d work side by side.",
        "%(minutes)d min serve %(served)d of %(people)d people with turns of %(shortest)d min: "
        "give more time, or let %(stations)d work side by side.",
        people,
    )
    return words % said


def _in_order(night: TripNight) -> list[Enrolment]:
    """Give who comes, others first on each further night and at each further rota of a night."""
    earlier = night.trip.nights.filter(date__lt=night.date).count()
    beside = night.rotas.count()
    people = _people(night)
    return turned(people, by=(earlier + beside) * max(1, len(people) // 3))


def _people(night: TripNight) -> list[Enrolment]:
    enrolments = night.trip.enrolments.filter(state__in=EXPECTED)
    return list(enrolments.select_related("person").order_by("place"))
