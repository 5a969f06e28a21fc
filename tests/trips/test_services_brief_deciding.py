"""Go or no-go and the brief that says so, in one press: both, or neither."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from tests.trips.briefed import make_briefed, publish_now, the_night
from tests.trips.joined import MEETING, placed
from tests.trips.making import NOON
from trips.almanac.wording import SkyError
from trips.models import Brief, Letter, Site, Spot, Trip, TripNight, User
from trips.services.briefs import deciding
from trips.services.briefs.deciding import decide_and_publish, decided_words
from trips.services.refusals import RefusedError

pytestmark = pytest.mark.django_db


@pytest.fixture
def trip() -> Trip:
    return make_briefed()


def press(trip: Trip, decision: str, *, seen: str | None = "", publishes: bool = True,
          now: datetime = NOON) -> str:  # fmt: skip
    """Press as who leads; give what is said."""
    by = User.objects.get(email="leader@meadow.example")
    done = decide_and_publish(
        the_night(trip), decision, seen=seen, publishes=publishes, by=by, now=now
    )
    return decided_words(done)


def nothing_is_done(trip: Trip) -> bool:
    mailed = Letter.objects.filter(kind="go_no_go")
    return not (the_night(trip).decision or mailed.exists() or Brief.objects.exists())


def second_spot(trip: Trip) -> Spot:
    site = Site.objects.create(
        organisation=trip.organisation, name="Fold", latitude=40.5, longitude=-1.0,
        zone="Europe/Madrid", emergency_number="112",
    )  # fmt: skip
    spot: Spot = Spot.objects.create(site=site, name="The old fold", latitude=40.5, longitude=-1.0)
    TripNight.objects.update(second_spot=spot)
    return spot


def test_one_press_decides_mails_and_publishes_what_says_so(trip: Trip) -> None:
    placed(trip)
    publish_now(trip)
    said = press(trip, "go")
    assert said == (
        "Decided: We go. 1 person with a place is mailed at once. "
        "Version 2 is published and says so."
    )
    assert the_night(trip).decision == "go"
    newest = Brief.objects.get(number=2)
    assert newest.facts["glance"]["state"] == "go"
    assert newest.changes[0].startswith("Decision: We go to Wall.")
    assert Letter.objects.filter(kind="go_no_go").count() == 1


def test_the_second_spot_is_published_with_its_own_sky_and_way(trip: Trip) -> None:
    spot = second_spot(trip)
    assert "we go to The old fold" in press(trip, "second")
    facts = Brief.objects.get().facts
    assert (facts["spot"], facts["site"]) == (spot.name, "Fold")
    assert "40.5000° north" in " ".join(facts["help"]["position"])


def test_pressed_twice_it_is_done_once(trip: Trip) -> None:
    placed(trip)
    press(trip, "go")
    said = press(trip, "go")
    assert "decided so before: nobody is mailed again" in said
    assert "Version 1, which people read, says so already." in said
    assert Brief.objects.count() == Letter.objects.filter(kind="go_no_go").count() == 1


def test_decided_alone_nothing_is_published_and_that_is_said(trip: Trip) -> None:
    assert "nobody can read one yet" in press(trip, "no_go", publishes=False)
    assert the_night(trip).decision == "no_go"
    assert not Brief.objects.exists()
    publish_now(trip)
    said = press(trip, "go", seen="no_go", publishes=False)
    assert "People still read version 1, which does not say so." in said


def test_what_was_decided_elsewhere_is_published_and_not_mailed_again(trip: Trip) -> None:
    placed(trip)
    publish_now(trip)
    press(trip, "go", publishes=False)
    assert "Version 2 is published and says so." in press(trip, "go", seen="go")
    assert Letter.objects.filter(kind="go_no_go").count() == 1


def test_of_two_who_decide_at_once_the_second_is_told_and_undoes_nothing(trip: Trip) -> None:
    press(trip, "no_go")
    with pytest.raises(RefusedError, match=r"Nadia decided at 13:00, while you looked: We do not"):
        press(trip, "go", seen="")
    assert the_night(trip).decision == "no_go"
    assert Brief.objects.count() == 1
    press(trip, "go", seen="no_go")
    assert the_night(trip).decision == "go"


def test_a_decision_is_taken_back_and_who_comes_is_told(trip: Trip) -> None:
    placed(trip)
    press(trip, "go")
    said = press(trip, "", seen="go")
    assert said.startswith("Taken back: it is open again whether we go. 1 person with a place is")
    assert Brief.objects.get(number=2).facts["glance"]["state"] == ""
    with pytest.raises(RefusedError, match="The decision was taken back while you looked"):
        press(trip, "no_go", seen="go")


def test_two_who_decide_the_same_at_once_are_one(trip: Trip) -> None:
    press(trip, "go")
    assert "decided so before" in press(trip, "go", seen="")


@pytest.mark.parametrize("publishes", [True, False])
def test_a_cancelled_trip_decides_nothing(trip: Trip, publishes: bool) -> None:
    Trip.objects.update(status=Trip.Status.CANCELLED)
    with pytest.raises(RefusedError, match="This trip is cancelled: there is nothing left"):
        press(trip, "go", publishes=publishes)
    assert nothing_is_done(trip)


def test_a_night_that_is_over_decides_nothing_and_one_under_way_mails_nobody(trip: Trip) -> None:
    placed(trip)
    with pytest.raises(RefusedError, match="This night is over: there is nothing left to decide"):
        press(trip, "go", now=MEETING + timedelta(hours=6))
    assert nothing_is_done(trip)
    said = press(trip, "no_go", now=MEETING + timedelta(hours=1))
    assert "People have met by now and are not mailed: tell them yourself." in said


def test_a_closed_night_decides_nothing(trip: Trip) -> None:
    TripNight.objects.update(closed_at=NOON)
    with pytest.raises(RefusedError, match="This night is closed: there is nothing left"):
        press(trip, "no_go")
    assert nothing_is_done(trip)


def test_a_coast_without_its_tides_is_not_gone_to_but_can_be_called_off(trip: Trip) -> None:
    Site.objects.update(on_coast=True)
    with pytest.raises(RefusedError, match="is on a coast and lacks: high water"):
        press(trip, "go")
    assert nothing_is_done(trip)
    assert "We do not go. " in press(trip, "no_go")


@pytest.mark.parametrize("wrong", ["second", "perhaps", "<b>"])
def test_what_is_no_decision_is_refused_and_leaves_nothing(trip: Trip, wrong: str) -> None:
    with pytest.raises(RefusedError):
        press(trip, wrong)
    assert nothing_is_done(trip)


def test_where_no_brief_can_be_computed_nothing_is_half_done_and_alone_it_goes(
    trip: Trip, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise SkyError("before_1972")

    monkeypatch.setattr(deciding, "ready_of", fails)
    with pytest.raises(RefusedError, match="Nothing is decided: take the tick away"):
        press(trip, "go")
    assert nothing_is_done(trip)
    assert "Decided: We go." in press(trip, "go", publishes=False)


def test_what_fails_while_it_is_published_takes_the_decision_with_it(
    trip: Trip, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise OSError("the disk is full")

    monkeypatch.setattr(deciding, "put", fails)
    with pytest.raises(OSError, match="disk"):
        press(trip, "go")
    assert nothing_is_done(trip)
