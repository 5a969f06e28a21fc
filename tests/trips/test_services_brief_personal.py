"""Each person reads their own lens, turn and units, and nothing of anybody else."""

from __future__ import annotations

import json
from datetime import timedelta
from typing import Any

import pytest

from tests.trips.briefed import CAMERA, bring, draft, make_briefed, the_night
from tests.trips.joined import placed
from trips.models import Enrolment, LoanItem, Rota, Turn
from trips.planning.brief.facts import Facts, kept_of
from trips.services.briefs.personal import Own, personal_facts
from trips.services.gear import gear_of

pytestmark = pytest.mark.django_db


def _mine(enrolment: Enrolment, **own: Any) -> Facts:
    gear = gear_of(enrolment).on(the_night(enrolment.trip).date)
    return personal_facts(draft(enrolment.trip), Own(enrolment, gear, **own))


def test_a_person_reads_their_own_lens_and_what_to_set_on_it() -> None:
    ilse = placed(make_briefed())
    bring(ilse, "camera", **CAMERA)
    bring(ilse, "lens", focal_mm=24.0, widest_f_number=1.8)
    said = _mine(ilse)
    assert said.reader == "Ilse"
    assert said.targets[0].lens == "your 24 mm f/1.8"
    assert said.targets[0].settings.startswith("15 s, f/1.8, ISO")
    assert said.first is not None
    assert "your 24 mm f/1.8" in said.first.title


def test_somebody_without_gear_is_told_that_the_settings_are_of_a_usual_lens() -> None:
    said = _mine(placed(make_briefed()))
    assert "on full frame" in said.targets[0].lens
    assert "not said yet what you bring" in said.targets[0].how[-1]


def test_a_lens_that_is_too_long_says_how_many_frames_to_join() -> None:
    ilse = placed(make_briefed())
    bring(ilse, "camera", **CAMERA)
    bring(ilse, "lens", focal_mm=50.0, widest_f_number=1.4)
    assert any("frames" in words and "join them" in words for words in _mine(ilse).targets[0].how)


def test_what_a_lens_cannot_reach_names_the_piece_of_the_club_that_would() -> None:
    trip = make_briefed()
    ilse = placed(trip)
    bring(ilse, "camera", **CAMERA)
    bring(ilse, "lens", focal_mm=200.0, widest_f_number=5.6)
    item = LoanItem.objects.create(
        organisation=trip.organisation, kind="lens", name="Wide one",
        spec={"focal_mm": 20.0, "widest_f_number": 1.8},
    )  # fmt: skip
    assert any("Wide one" in words for words in _mine(ilse, kit=[item]).targets[0].how)
    assert not any("Wide one" in words for words in _mine(ilse).targets[0].how)


def test_what_to_set_on_the_tracker_is_one_of_the_lines_for_whoever_has_one() -> None:
    ilse = placed(make_briefed())
    bring(ilse, "camera", **CAMERA)
    bring(ilse, "lens", focal_mm=24.0, widest_f_number=1.8)
    assert not any(target.tracked for target in _mine(ilse).targets)
    bring(ilse, "tracker", payload_kg=5.0)
    target = _mine(ilse).targets[0]
    assert target.tracked.startswith("On the tracker: ")
    assert target.tracked in target.how


def test_a_turn_has_its_row_in_the_night_and_its_words() -> None:
    trip = make_briefed()
    ilse, night = placed(trip), the_night(trip)
    at = night.meeting_at + timedelta(hours=4)
    rota = Rota.objects.create(
        night=night, what="the tracker", starts_at=at, ends_at=at + timedelta(hours=1)
    )
    turn = Turn.objects.create(
        rota=rota, enrolment=ilse, starts_at=at, ends_at=at + timedelta(minutes=30), station=1
    )
    said = _mine(ilse, turns=[turn])
    assert [row.words for row in said.rows if row.kind == "turn"] == ["Your turn: the tracker"]
    assert said.texts["turn"] == ("00:30 to 01:00: the tracker, place 1.",)


def test_whoever_has_no_turn_where_there_are_turns_is_told_so() -> None:
    trip = make_briefed()
    night = the_night(trip)
    at = night.meeting_at
    Rota.objects.create(night=night, what="the wall", starts_at=at, ends_at=at + timedelta(hours=1))
    assert "no turn" in _mine(placed(trip)).texts["turn"][0]


def test_nothing_of_another_person_stands_in_it() -> None:
    trip = make_briefed()
    ilse, other = placed(trip), placed(trip, "Bartholomew")
    bring(other, "lens", focal_mm=24.0, widest_f_number=1.8, name="Secret glass")
    assert "Bartholomew" not in json.dumps(kept_of(_mine(ilse)))
    assert "Secret glass" not in json.dumps(kept_of(_mine(ilse)))
