"""Turns of a night: shared out fairly, kept, given on when somebody drops out, exchanged."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.conftest import WHEN, Cast
from trips.models import Enrolment, Person, Rota, Turn
from trips.services.refusals import TripRefusedError
from trips.services.rotas import exchange, give_free, propose_rota, save_rota, share_again

TWELVE = 12


@pytest.fixture
def people(cast: Cast) -> list[Enrolment]:
    return [_enrol(cast, n) for n in range(TWELVE)]


@pytest.fixture
def rota(cast: Cast, people: list[Enrolment]) -> Rota:
    rota = _rota(cast, minutes=70, stations=4)
    save_rota(rota, by=cast.instructor, now=WHEN)
    return rota


def test_everybody_with_a_place_gets_one_turn(rota: Rota, people: list[Enrolment]) -> None:
    turns = list(rota.turns.all())
    assert {turn.enrolment_id for turn in turns} == {one.pk for one in people}
    assert {turn.ends_at - turn.starts_at for turn in turns} == {timedelta(minutes=23)}
    assert len({(turn.starts_at, turn.station) for turn in turns}) == TWELVE


def test_other_people_go_first_on_the_next_night(cast: Cast, rota: Rota) -> None:
    second = cast.trip.nights.exclude(pk=rota.night_id).get()
    other = propose_rota(second)
    other.what, other.stations = "The same again", 4
    save_rota(other, by=cast.instructor, now=WHEN)
    assert _first(rota) != _first(other)


def test_who_drops_out_moves_nobody_and_leaves_a_slot_to_who_joins(
    cast: Cast, rota: Rota, people: list[Enrolment]
) -> None:
    before = _slots(rota)
    freed = before.pop(people[5].pk)
    Enrolment.objects.filter(pk=people[5].pk).update(state="given_back", place=None)
    late = _enrol(cast, 40)
    assert give_free(rota, by=cast.instructor, now=WHEN) == 0
    assert _slots(rota) == before | {late.pk: freed}


def test_who_joins_when_all_slots_are_taken_is_told_to_have_none(cast: Cast, rota: Rota) -> None:
    late = _enrol(cast, 40)
    assert give_free(rota, by=cast.instructor, now=WHEN) == 1
    assert not rota.turns.filter(enrolment=late).exists()
    share_again(rota, by=cast.instructor, now=WHEN)
    assert rota.turns.filter(enrolment=late).exists()


def test_two_people_exchange_their_turns_and_nobody_else_moves(rota: Rota) -> None:
    before = _slots(rota)
    first, second = rota.turns.all()[0], rota.turns.all()[7]
    exchange(first, second)
    changed = {first.enrolment_id: before[second.enrolment_id],
               second.enrolment_id: before[first.enrolment_id]}  # fmt: skip
    assert _slots(rota) == before | changed


def test_people_of_two_rotas_do_not_exchange(cast: Cast, rota: Rota) -> None:
    other = _rota(cast, minutes=90, stations=4)
    save_rota(other, by=cast.instructor, now=WHEN)
    with pytest.raises(TripRefusedError, match="not of one rota"):
        exchange(rota.turns.all()[0], other.turns.all()[1])


def test_a_time_too_short_is_refused_with_what_would_do_and_nothing_is_kept(
    cast: Cast, people: list[Enrolment]
) -> None:
    rota = _rota(cast, minutes=12, stations=2)
    with pytest.raises(TripRefusedError, match=r"serve 4 of 12 people .* let 6 work side by side"):
        save_rota(rota, by=cast.instructor, now=WHEN)
    assert not Rota.objects.exists()


def _rota(cast: Cast, *, minutes: int, stations: int) -> Rota:
    rota = propose_rota(cast.trip_night)
    rota.what, rota.stations = "The edge", stations
    rota.ends_at = rota.starts_at + timedelta(minutes=minutes)
    return rota


def _slots(rota: Rota) -> dict[int, tuple[object, int]]:
    return {turn.enrolment_id: (turn.starts_at, turn.station) for turn in rota.turns.all()}


def _first(rota: Rota) -> set[int]:
    turns = Turn.objects.filter(rota=rota)
    first = min(turn.starts_at for turn in turns)
    return {turn.enrolment_id for turn in turns if turn.starts_at == first}


def _enrol(cast: Cast, n: int) -> Enrolment:
    person = Person.objects.create(
        organisation=cast.club, name=f"Person {n}", mail=f"person{n}@meadow.example"
    )
    row = Enrolment(
        trip=cast.trip, person=person, state="placed", place=n + 1, asked_at=WHEN, link_hash=f"{n}"
    )
    row.save()
    return row
