"""Every button of trips pressed twice: by a thumb that shakes, or after going back a page.

What was asked for once is there once, and the second press is answered with a page.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

import pytest
from django.apps import apps
from django.test import Client
from django.utils import timezone

from tests.conftest import WHEN, Cast
from tests.trips.doors import MATRIX, address
from tests.trips.full_trip import fill
from tests.trips.pressing import form_on
from tests.trips.test_views_trip_editing import PLAN, TRIP
from trips.models import Enrolment, Loan, OwnGear, Trip
from trips.services.links import invitation_of, token_of
from trips.services.trip_instructors import lead

Values = dict[str, Any]
Browser = Callable[[str], Client]
BEFORE = datetime(2027, 2, 20, 12, tzinfo=UTC)
OUT = datetime(2027, 3, 1, 22, tzinfo=UTC)  # in the middle of the first night


def nothing(_cast: Cast) -> Values:
    return {}


@dataclass(frozen=True, slots=True)
class Press:
    """A button at the address of a deed, of which `to` gives the parts that are not the cast's.

    What is typed goes into the form at that address, if there is one to look at.
    """

    deed: str
    typed: Callable[[Cast], Values] = nothing
    to: Callable[[Cast], Values] = nothing
    at: datetime = BEFORE
    has_form: bool = True
    ends_its_page: bool = False  # nothing is at this address any more


def said(**typed: Any) -> Callable[[Cast], Values]:
    return lambda _cast: typed


def button(
    deed: str, typed: Callable[[Cast], Values] = nothing, /, **more: Any
) -> Press:  # fmt: skip
    """Give a button on another page than the one at its address."""
    return Press(deed, typed, has_form=False, **more)


def mine(cast: Cast, **more: object) -> Values:
    return {"token": token_of(cast.enrolment), **more}


def unconfirmed(cast: Cast) -> Values:
    stand(cast, state="asked", place=None, placed_at=None, confirmed_at=None)
    return mine(cast)


def absent(cast: Cast) -> Values:
    stand(cast, state="no_show")
    return {}


def second_who_waits(cast: Cast) -> Values:
    rows = list(cast.trip.enrolments.order_by("pk"))
    for number, row in enumerate(rows, 1):
        waits = {"state": "waiting", "place": None, "placed_at": None, "queue_number": number}
        Enrolment.objects.filter(pk=row.pk).update(**waits)
    return {"enrolment_id": rows[1].pk}


def stand(cast: Cast, **fields: Any) -> None:
    Enrolment.objects.filter(pk=cast.enrolment.pk).update(**fields)


def only_asked(_cast: Cast) -> Values:
    Loan.objects.update(is_granted=False)
    return {}


def free_kit(cast: Cast) -> Values:
    Loan.objects.all().delete()
    return mine(cast)


def own_lens(cast: Cast) -> Values:
    return mine(cast, number=OwnGear.objects.get(enrolment=cast.enrolment, spec__focal_mm=24).pk)


def piece(cast: Cast) -> Values:
    return {"item": cast.loan_item.pk}


def two_turns(cast: Cast) -> Values:
    first, second = cast.rota.turns.all()[:2]
    return {"exchange": "1", "first": first.pk, "second": second.pk}


REST = {"phone": "+34 600 000 002", "emergency_name": "Bo", "emergency_phone": "+34 600 000 003",
        "experience": "some", "units": "metric"}  # fmt: skip
TIDE = {"tides-0-height_m": "3.4", "tides-1-height_m": "0.2", "tides-2-kind": "high",
        "tides-2-at": "04:50", "tides-2-height_m": "3.2"}  # fmt: skip
CAR = {"cars-5-name": "Red van", "cars-5-seats": "5"}
BO = {"name": "Bo", "mail": "bo@calder.example"}

PRESSES = [
    Press("trip_add", lambda cast: PLAN | TRIP | {"spot": cast.spot.pk}),
    Press("trip_edit", said(name="Other nights")),
    button("trip_step", said(to="cancelled")),
    button("trip_invitation"),
    button("trip_instructors", lambda cast: {"user": cast.coordinator.pk, "phone": "+34 1"}),
    button(
        "trip_instructor_off",
        to=lambda cast: {"instructor_id": lead(cast.trip, cast.coordinator).pk},
    ),
    Press("trip_night_add", said(date="2027-03-05")),
    Press("trip_night_edit", said(**TIDE)),
    Press("trip_night_remove", to=lambda cast: {"night_id": cast.trip.nights.latest("date").pk}),
    Press("trip_cars", said(**CAR)),
    Press("trip_drivers"),
    button("trip_night_close", said(all_the_same="1"), at=OUT),
    button("trip_night_reopen", at=OUT),
    button("trip_night_decide", said(decision="go")),
    button(
        "trip_night_brief_part",
        said(text="Bring a rope", version="0"),
        to=lambda cast: {"night_id": cast.trip_night.pk, "part": "way"},
    ),
    button("trip_night_brief_publish", said(expects="1")),
    button("trip_night_brief_decide", said(decision="go", seen="", publishes="on")),
    button("trip_calendar", said(calendar="make")),
    button("place_calendar", said(calendar="make"), to=mine),
    Press("trip_night_log", said(log_note="Clear from ten"), at=OUT),
    Press("site_months", said(low_c_2="-4", source="A diary")),
    Press("enrolment_remove"),
    button("enrolment_no_show", at=OUT),
    button("enrolment_came", to=absent, at=OUT),
    button("enrolment_move_up", said(before="1"), to=second_who_waits),
    button("enrolment_new_link"),
    button("letter_again"),
    Press("rota_add", said(what="The kiln again", starts_at="22:00", ends_at="23:30")),
    button("rota_change", said(again="1")),
    button("rota_change", two_turns),
    button("rota_change", said(remove="1"), ends_its_page=True),
    button("count_link_renew"),
    button(
        "head_count",
        lambda cast: {"kind": "left", "who": f"p{cast.enrolment.pk}", "uid": PLAN["uid"]},
        to=lambda cast: {"token": token_of(cast.trip_instructor)},
        at=OUT,
    ),
    button(
        "head_count_close",
        said(all_the_same="1"),
        to=lambda cast: {"token": token_of(cast.trip_instructor)},
        at=OUT,
    ),
    Press("place", said(wish="The arch", **REST), to=mine),
    button("place_confirm", to=unconfirmed),
    Press("place_give_back", to=mine),
    button("place_new_link", to=mine, ends_its_page=True),
    Press("place_forget", to=mine, ends_its_page=True),
    Press("invitation", said(**BO), to=lambda cast: {"token": invitation_of(cast.trip)}),
    Press("join", said(**BO)),
    Press("loan_item_add", said(name="Wide one", focal="14", widest="2.8")),
    Press("loan_item_edit", said(payload_kg="4")),
    Press("loan_item_archive"),
    button("loan_grant", to=only_asked),
    button("loan_refuse"),
    button("enrolment_lend", piece, to=only_asked),
    button("trip_lend", lambda cast: piece(cast) | {"person": cast.enrolment.pk}, to=only_asked),
    Press("my_gear_add", said(focal="35", widest="1.4"), to=mine),
    Press("my_gear_change", said(focal="35", widest="1.4"), to=own_lens),
    button("my_gear_remove", to=own_lens),
    button("my_gear_small", said(batteries="3", red_light="red", tape="on"), to=mine),
    button("my_gear_copy", to=mine),
    button("my_gear_ask", piece, to=free_kit),
    button("my_gear_withdraw", to=lambda cast: mine(cast, number=cast.loan.pk)),
]
# Its marks carry an id each, and are posted again and again: the tests of the head count do that.
PRESSED_ELSEWHERE = {"head_count_ticks"}
OF_TRIPS = ("trip_", "enrolment_", "letter_", "rota_", "count_", "head_", "place", "loan_",
            "my_gear", "join", "invitation", "site_months")  # fmt: skip


@pytest.mark.parametrize("press", PRESSES, ids=lambda press: press.deed)
def test_a_button_pressed_twice_does_it_once(
    press: Press, cast: Cast, signed_in: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(timezone, "now", lambda: press.at)
    client = signed_in("coordinator")
    _set_out(cast)
    path = address(press.deed, cast, **press.to(cast))
    typed = press.typed(cast)
    if press.has_form:
        typed = form_on(client.get(path).content.decode(), path) | typed
    first, once = client.post(path, typed), _rows()
    second, twice = client.post(path, typed), _rows()
    assert first.status_code == 302 or press.ends_its_page
    assert second.status_code == 404 if press.ends_its_page else second.status_code in (200, 302)
    assert twice == once


def test_every_button_of_trips_is_pressed() -> None:
    posted = {name for way, name in MATRIX if way == "POST" and name.startswith(OF_TRIPS)}
    assert posted == {press.deed for press in PRESSES} | PRESSED_ELSEWHERE


def test_what_is_done_undone_and_done_again_is_written_down_three_times(
    cast: Cast, signed_in: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(timezone, "now", lambda: OUT)
    client, night = signed_in("coordinator"), cast.trip_night
    for deed in ("close", "reopen", "close"):
        client.post(address(f"trip_night_{deed}", cast), {"all_the_same": "1"})
    events = night.trip.events.order_by("pk").values_list("what", flat=True)
    assert list(events)[-3:] == ["night_closed", "night_reopened", "night_closed"]


def _set_out(cast: Cast) -> None:
    """Open the trip and let two people have all that a trip can hold of them."""
    trip = cast.trip
    trip.status, trip.capacity, trip.is_public = Trip.Status.OPEN, 6, True
    trip.save()
    fill(trip, 2, now=WHEN)
    assert cast.letter.pk


def _rows() -> Counter[str]:
    kinds = apps.get_app_config("trips").get_models()
    return Counter({kind.__name__: kind._default_manager.count() for kind in kinds})
