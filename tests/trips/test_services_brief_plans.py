"""A plan says what a version says, with what is the reader's own, and nothing unpublished."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest

from tests.trips.briefed import (
    CAMERA,
    bring,
    facts,
    make_briefed,
    make_plans,
    publish_now,
    the_night,
)
from tests.trips.joined import MEETING, REST, joined, kinds, placed
from tests.trips.making import NOON
from trips.models import (
    Brief,
    Enrolment,
    LoanItem,
    OwnGear,
    Person,
    PersonalPlan,
    Rota,
    Trip,
    TripNight,
    Turn,
    User,
)
from trips.planning.gear import Lens, Tracker, written
from trips.services import joining
from trips.services.briefs import plans
from trips.services.briefs.personal import personal_facts
from trips.services.briefs.plans import progress_of
from trips.services.forgetting import forget_on_request
from trips.services.gear import add_piece, change_piece, gear_of, remove_piece
from trips.services.loans import lend, refuse
from trips.services.refusals import RefusedError
from trips.services.rotas import exchange, save_rota

pytestmark = pytest.mark.django_db

LENS = {"focal_mm": 24.0, "widest_f_number": 1.8}


@pytest.fixture
def trip() -> Trip:
    return make_briefed(capacity=4)


@pytest.fixture
def ilse(trip: Trip) -> Enrolment:
    """Somebody with a camera and a lens."""
    enrolment = placed(trip)
    bring(enrolment, "camera", name="Old", **CAMERA)
    bring(enrolment, "lens", **LENS)
    return enrolment


def plan_of(enrolment: Enrolment) -> dict[str, Any]:
    facts: dict[str, Any] = PersonalPlan.objects.get(enrolment=enrolment).facts
    return facts


def test_everybody_with_a_place_gets_one_once_and_who_waits_does_not(
    trip: Trip, ilse: Enrolment
) -> None:
    held = joined(trip, "Ana")
    Trip.objects.update(capacity=2)
    waiting = joined(trip, "Bo")
    brief = publish_now(trip)
    assert (progress_of(brief).done, progress_of(brief).total) == (0, 2)
    assert (make_plans(), make_plans()) == (2, 0)
    assert (progress_of(brief).done, progress_of(brief).total) == (2, 2)
    assert {plan.enrolment_id for plan in PersonalPlan.objects.all()} == {ilse.pk, held.pk}
    assert waiting.state == Enrolment.State.WAITING


def test_a_plan_has_the_readers_own_lens_and_nobody_elses_name(trip: Trip, ilse: Enrolment) -> None:
    other = placed(trip, "Zacharias")
    publish_now(trip)
    make_plans()
    own = plan_of(ilse)
    assert own["reader"] == "Ilse"
    assert own["targets"][0]["lens"].startswith("your 24 mm f/1.8")
    assert own["first"]["aperture"] == "f/1.8"
    kept = PersonalPlan.objects.get(enrolment=ilse)
    assert "Zacharias" not in f"{kept.facts}{kept.parts}"
    assert "You have not said yet what you bring" in str(plan_of(other)["targets"])


def test_a_plan_keeps_only_what_is_other_than_the_version(trip: Trip, ilse: Enrolment) -> None:
    brief = publish_now(trip)
    make_plans()
    plan = PersonalPlan.objects.get()
    assert set(plan.facts) == {"reader", "targets", "first"}
    assert all(value != brief.facts[name] for name, value in plan.facts.items())
    assert set(plan.parts) == {"targets", "first"}


def test_units_of_the_reader_are_theirs(trip: Trip, ilse: Enrolment) -> None:
    TripNight.objects.update(air_c=-5.0)
    publish_now(trip)
    Person.objects.update(units="imperial")
    make_plans()
    assert plan_of(ilse)["glance"]["coldest"]["words"] == "23 °F"


def test_what_was_changed_after_publishing_reaches_nobody_who_joins_later(
    trip: Trip, ilse: Enrolment
) -> None:
    publish_now(trip)
    night, leader = the_night(trip), User.objects.get(email="leader@meadow.example")
    TripNight.objects.update(
        meeting_point="The mill", air_c=-7.0, meeting_at=MEETING + timedelta(minutes=10)
    )
    night.spot.landmarks.update(name="the secret tower")
    night.spot.site.hazards.update(text="an unpublished drop")
    night.rotas.create(
        what="the arch", starts_at=MEETING, ends_at=MEETING + timedelta(hours=1), stations=4
    )
    Person.objects.update(units="imperial")
    make_plans()
    kept = PersonalPlan.objects.get()
    said = f"{kept.facts}{kept.parts}"
    assert not any(word in said for word in ("mill", "20:40", "secret", "unpublished", "°F"))
    assert plan_of(ilse)["reader"] == "Ilse"
    assert leader.email not in said


def test_a_night_that_no_longer_computes_is_read_as_everybody_reads_it(
    trip: Trip, ilse: Enrolment, monkeypatch: pytest.MonkeyPatch
) -> None:
    publish_now(trip, is_mailed=True)
    monkeypatch.setattr(plans, "draft_of", refuses)
    assert (make_plans(), make_plans()) == (1, 0)
    assert plan_of(ilse) == {"reader": "Ilse"}
    assert "brief" in kinds(ilse)


def refuses(*_args: object, **_options: object) -> None:
    raise RefusedError("no")


def test_the_letter_is_asked_for_with_the_plan_and_only_when_told_to(
    trip: Trip, ilse: Enrolment
) -> None:
    publish_now(trip)
    make_plans()
    assert "brief" not in kinds(ilse)
    TripNight.objects.update(meeting_point="The mill")
    publish_now(trip, is_mailed=True)
    make_plans()
    assert kinds(ilse).count("brief") == 1
    add_piece(ilse, Lens(focal_mm=50, widest_f_number=2))
    assert make_plans() == 1
    assert kinds(ilse).count("brief") == 1


def test_what_another_worker_has_in_hand_is_left_to_it_until_it_falls_silent(
    trip: Trip, ilse: Enrolment
) -> None:
    publish_now(trip)
    Brief.objects.update(lease_owner=uuid4(), lease_expires_at=NOON + timedelta(seconds=5))
    assert make_plans(NOON) == 0
    assert make_plans(NOON + timedelta(seconds=6)) == 1
    assert Brief.objects.get().lease_owner is None


def test_a_worker_whose_version_was_taken_over_makes_no_more_plans(
    trip: Trip, ilse: Enrolment, monkeypatch: pytest.MonkeyPatch
) -> None:
    placed(trip, "Ana")
    publish_now(trip)
    monkeypatch.setattr(plans, "gear_of", taken_over_meanwhile)
    assert make_plans() == 1
    monkeypatch.undo()
    assert make_plans(NOON + timedelta(minutes=1)) == 1


def taken_over_meanwhile(enrolment: Enrolment) -> Any:
    Brief.objects.update(lease_owner=uuid4())
    return gear_of(enrolment)


def test_plans_of_an_older_version_go_when_the_newer_one_is_planned(
    trip: Trip, ilse: Enrolment
) -> None:
    publish_now(trip)
    make_plans()
    TripNight.objects.update(meeting_point="The mill")
    second = publish_now(trip)
    make_plans()
    assert PersonalPlan.objects.get(enrolment=ilse).brief == second


def test_gear_makes_a_plan_anew(trip: Trip, ilse: Enrolment) -> None:
    publish_now(trip)
    make_plans()
    lens = OwnGear.objects.get(kind="lens")
    change_piece(lens, Lens(focal_mm=20, widest_f_number=2))
    assert make_plans() == 1
    assert "20 mm" in str(plan_of(ilse)["targets"])
    remove_piece(ilse, lens.pk)
    assert make_plans() == 1
    assert "You have not said yet" in str(plan_of(ilse)["targets"])


def test_a_loan_makes_a_plan_anew_and_taking_it_back_too(trip: Trip, ilse: Enrolment) -> None:
    leader = User.objects.get(email="leader@meadow.example")
    tracker = Tracker(payload_kg=5)
    item = LoanItem.objects.create(
        organisation=trip.organisation, kind="tracker", name="Kit one", spec=written(tracker)
    )
    publish_now(trip)
    make_plans()
    assert "tracker" not in str(plan_of(ilse)["targets"])
    loan = lend(item, the_night(trip), ilse, by=leader, now=NOON)
    assert make_plans() == 1
    assert "On the tracker: " in str(plan_of(ilse)["targets"])
    refuse(loan, by=leader, now=NOON)
    assert make_plans() == 1
    assert "tracker" not in str(plan_of(ilse)["targets"])


def test_turns_make_plans_anew_and_each_reads_their_own(trip: Trip, ilse: Enrolment) -> None:
    ana = placed(trip, "Ana")
    leader, night = User.objects.get(email="leader@meadow.example"), the_night(trip)
    publish_now(trip)
    make_plans()
    rota = Rota(
        night=night, what="the core", stations=1,
        starts_at=MEETING + timedelta(hours=4), ends_at=MEETING + timedelta(hours=5),
    )  # fmt: skip
    save_rota(rota, by=leader, now=NOON)
    assert make_plans() == 2
    first = {one.pk: plan_of(one)["texts"]["turn"] for one in (ilse, ana)}
    assert first[ilse.pk] != first[ana.pk]
    assert "the core, place 1" in first[ilse.pk][0]
    assert any(row["kind"] == "turn" for row in plan_of(ilse)["rows"])
    exchange(*Turn.objects.order_by("pk"))
    assert make_plans() == 2
    assert plan_of(ilse)["texts"]["turn"] == first[ana.pk]


def test_units_and_a_name_said_anew_make_a_plan_anew(trip: Trip, ilse: Enrolment) -> None:
    publish_now(trip)
    make_plans()
    joining.say_the_rest(ilse, replace(REST, name="Ilse Two"), now=NOON)
    assert make_plans() == 1
    assert plan_of(ilse)["reader"] == "Ilse Two"


def test_what_changes_while_a_plan_is_made_is_not_kept_as_it_was(
    trip: Trip, ilse: Enrolment, monkeypatch: pytest.MonkeyPatch
) -> None:
    publish_now(trip)

    def slowly(*args: Any) -> Any:
        if OwnGear.objects.filter(kind="lens").count() == 1:
            add_piece(ilse, Lens(focal_mm=14, widest_f_number=2.8))
        return personal_facts(*args)

    monkeypatch.setattr(plans, "personal_facts", slowly)
    assert make_plans() == 0
    assert make_plans() == 1
    assert "14 mm" in str(plan_of(ilse)["targets"])


def test_a_plan_goes_with_its_enrolment(trip: Trip, ilse: Enrolment) -> None:
    publish_now(trip)
    make_plans()
    forget_on_request(ilse, now=NOON)
    assert not PersonalPlan.objects.exists()


@pytest.mark.parametrize("over", ["cancelled", "past"])
def test_no_plan_is_made_of_what_is_over(trip: Trip, ilse: Enrolment, over: str) -> None:
    publish_now(trip)
    if over == "cancelled":
        Trip.objects.update(status="cancelled")
    late = NOON if over == "cancelled" else MEETING + timedelta(days=9)
    assert make_plans(late) == 0
    assert facts(trip).trip == "June on the hill"
