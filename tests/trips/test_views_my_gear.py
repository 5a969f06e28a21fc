"""My gear behind a person's link: typed on a phone, answered at once, refused in a sentence."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.conftest import FIRST, Cast
from tests.trips.test_services_gear import another_trip, enrolled, in_kit
from trips.models import Enrolment, Loan, OwnGear
from trips.planning.gear import Batteries, Camera, DewHeater, Lens, RedLight, Tracker
from trips.services import gear, loans
from trips.services.links import token_of

CAMERA = Camera(
    name="Grey one", sensor_width_mm=36, sensor_height_mm=24, pixels_wide=6000, pixels_high=4000,
    top_iso=6400,
)  # fmt: skip
BEFORE = datetime(2027, 2, 20, 12, tzinfo=UTC)

REFUSED: list[tuple[str, dict[str, str], str]] = [
    ("lens", {"focal": "0", "widest": "2.8"}, "No lens has a focal length of 0 mm"),
    ("lens", {"focal": "24", "widest": "0"}, "No lens has f/0"),
    ("lens", {"focal": "24", "widest": "f/2.8; drop"}, "cannot be read; write it like 2.8"),
    ("lens", {"focal": "70-24", "widest": "2.8"}, "24 mm is not longer than 70 mm"),
    ("lens", {"focal": "", "widest": "2.8"}, "Nothing is written here; write it like 24"),
    ("camera", {"sensor": "", "top_iso": "6400"}, "Choose one, or open “Another sensor”"),
    ("camera", {"sensor": "aps-c", "sensor_width_mm": "36"}, "Millimetres are typed below"),
    ("camera", {"sensor": "aps-c", "top_iso": "1"}, "must be from 100 to 819200"),
    ("camera", {"sensor": "aps-c", "pixels_wide": "5"}, "must be from 100 to 100000"),
    ("support", {"weight_kg": "4000"}, "4000 is out of range: it must be from 0.01 to 40"),
    ("support", {"leg_mm": "nan"}, "“nan” is not a number; write it like 3"),
    ("tracker", {"payload_kg": ""}, "No number is written here; write it like 3"),
    ("batteries", {"number": "2.5"}, "2.5 is not a whole number"),
    ("tape", {"name": "x" * 81}, "Write at most 80 characters; these are 81"),
]


@pytest.fixture(autouse=True)
def _a_week_before(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(timezone, "now", lambda: BEFORE)


def page(cast: Cast, **asked: str) -> str:
    return Client().get(where("my_gear", cast.enrolment), asked).content.decode()


def where(name: str, enrolment: Enrolment, *more: object) -> str:
    return reverse(name, args=[token_of(enrolment), *more])


def post(cast: Cast, deed: str, /, *more: object, **typed: object) -> str:
    """Press a button and follow where it leads."""
    answer = Client().post(where(deed, cast.enrolment, *more), typed, follow=True)
    assert answer.status_code == 200
    return answer.content.decode()


def words(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", html))


def test_a_lens_answers_at_once_with_what_to_set_and_what_it_sees(cast: Cast) -> None:
    cast.trip.target_list = cast.target_list
    cast.trip.save()
    gear.add_piece(cast.enrolment, CAMERA)
    told = words(post(cast, "my_gear_add", "lens", focal="24", widest="1.8"))
    assert "It is added." in told
    assert "24 mm f/1.8" in told
    assert re.search(r"\d+ s, f/1\.8, ISO \d", told)
    assert "Sees 74° by 53°." in told


def test_a_lens_that_cannot_says_why_in_two_numbers(cast: Cast) -> None:
    for piece in (CAMERA, Lens(focal_mm=200, widest_f_number=5.6)):
        gear.add_piece(cast.enrolment, piece)
    told = words(page(cast))
    assert "Only on a tracker" in told
    assert re.search(
        r"Stars stay points for \S+ s\. That needs ISO [\d ]+, more than your 6400", told
    )


def test_a_lent_tracker_is_counted_on_its_night_alone(cast: Cast) -> None:
    for piece in (CAMERA, Lens(focal_mm=200, widest_f_number=2.8)):
        gear.add_piece(cast.enrolment, piece)
    item = in_kit(cast, Tracker(name="Tern", payload_kg=5))
    loans.lend(item, cast.trip_night, cast.enrolment, by=cast.instructor, now=BEFORE)
    assert "On the tracker" in words(page(cast))
    assert "Only on a tracker" in words(page(cast, night="2027-03-02"))
    assert "On the tracker" in words(page(cast, night="2027-02-30"))  # no day: the next night


def test_a_button_that_is_pressed_twice_adds_one_piece(cast: Cast) -> None:
    for _time in range(2):
        post(cast, "my_gear_add", "tracker", name="Mine", payload_kg="5")
    assert OwnGear.objects.filter(kind="tracker").count() == 1


def test_what_cannot_be_is_refused_in_a_sentence_and_nothing_is_saved(cast: Cast) -> None:
    for kind, typed, refusal in REFUSED:
        told = words(post(cast, "my_gear_add", kind, **typed))
        assert "Not saved: one thing to put right" in told
        assert refusal in told
    assert not OwnGear.objects.exists()


def test_more_than_thirty_are_refused(cast: Cast) -> None:
    rows = [OwnGear(enrolment=cast.enrolment, kind="lens", spec={"n": n}) for n in range(30)]
    OwnGear.objects.bulk_create(rows)
    assert "30 of a kind are the most" in post(cast, "my_gear_add", "lens", focal="9", widest="2")


def test_names_in_any_script_are_shown_as_typed_and_never_run(cast: Cast) -> None:
    name = "<script>alert(1)</script> =1+1 מצלמה 🌌"
    turning = f"\u202e{name}\u0000"
    html = post(cast, "my_gear_add", "camera", name=turning, sensor="full-frame", top_iso="6400")
    assert gear.gear_of(cast.enrolment).cameras[0].name == name
    assert "<script>alert" not in html
    assert "&lt;script&gt;alert(1)&lt;/script&gt; =1+1 מצלמה 🌌" in html


def test_a_piece_is_changed_and_taken_off_and_pressing_again_harms_nothing(cast: Cast) -> None:
    row = gear.add_piece(cast.enrolment, Lens(focal_mm=24, longest_mm=70, widest_f_number=2.8))
    shown = Client().get(where("my_gear_change", cast.enrolment, row.pk)).content.decode()
    assert 'value="24-70"' in shown
    post(cast, "my_gear_change", row.pk, focal="24-120", widest="4")
    assert gear.gear_of(cast.enrolment).lenses[0].longest_mm == 120
    assert "taken off your gear" in post(cast, "my_gear_remove", row.pk)
    assert "taken off already" in post(cast, "my_gear_remove", row.pk)
    assert "taken off already" in post(cast, "my_gear_change", row.pk, focal="24", widest="4")


def test_one_link_opens_nothing_of_another_person(cast: Cast) -> None:
    row = gear.add_piece(cast.enrolment, CAMERA)
    other = enrolled(cast.trip, "Bruno", place=2)
    assert Client().get(where("my_gear_change", other, row.pk)).status_code == 404
    Client().post(where("my_gear_remove", other, row.pk))
    assert OwnGear.objects.filter(pk=row.pk).exists()
    assert "Grey one" not in Client().get(where("my_gear", other)).content.decode()


def test_small_things_are_ticked_and_batteries_counted_with_more_and_less(cast: Cast) -> None:
    post(cast, "my_gear_small", batteries="2", step="more", red_light="red", dew_heater="on")
    assert gear.gear_of(cast.enrolment).own == (
        Batteries(number=3), DewHeater(), RedLight()
    )  # fmt: skip
    assert 'value="3"' in page(cast)
    post(cast, "my_gear_small", batteries="0", step="less", red_light="")
    assert gear.gear_of(cast.enrolment).own == ()


def test_no_number_of_batteries_is_refused_and_nothing_saved(cast: Cast) -> None:
    for typed in ("-1", "1.5", "100", "three", "1e5"):
        told = words(post(cast, "my_gear_small", batteries=typed, tape="on"))
        assert "Not saved: something below is to be put right." in told
    assert not OwnGear.objects.exists()


def test_what_is_lacking_ends_in_asking_the_club_and_the_answer_is_shown(cast: Cast) -> None:
    item = in_kit(cast, RedLight(name="Headlamp 4"))
    told = words(page(cast))
    assert "No red light: white light takes everybody’s eyes" in told
    assert "The club can lend you: Headlamp 4 (red light)" in told
    assert "no answer yet" in post(cast, "my_gear_ask", item=item.pk)
    first, second = Loan.objects.all()
    loans.lend(item, first.night, cast.enrolment, by=cast.instructor, now=BEFORE)
    loans.refuse(second, by=cast.instructor, now=BEFORE)
    told = words(page(cast))
    assert ("Mon 1 Mar: lent to you" in told, "Tue 2 Mar: not this time" in told) == (True, True)
    post(cast, "my_gear_withdraw", first.pk)
    assert list(Loan.objects.all()) == [second]


def test_what_another_club_lends_cannot_be_asked_for(cast: Cast) -> None:
    item = in_kit(cast)
    item.organisation = cast.elsewhere
    item.save()
    for number in (item.pk, "9" * 30, "x", ""):
        told = words(post(cast, "my_gear_ask", item=number))
        assert "The club lends that no more" in told
    assert not Loan.objects.exists()


def test_gear_of_an_earlier_trip_is_taken_over_at_a_press(cast: Cast) -> None:
    before = cast.enrolment
    gear.add_piece(before, CAMERA)
    again = enrolled(another_trip(cast), "Somebody", place=1)
    Enrolment.objects.filter(pk=again.pk).update(person=before.person)
    shown = words(Client().get(where("my_gear", again)).content.decode())
    assert "Take over my gear of Spring dark nights" in shown
    assert not OwnGear.objects.filter(enrolment=again).exists()
    told = Client().post(where("my_gear_copy", again), follow=True).content.decode()
    assert "Taken over from your earlier trip" in told
    assert gear.gear_of(again).cameras == (CAMERA,)


def test_who_has_no_place_yet_or_no_more_is_led_to_their_own_page(cast: Cast) -> None:
    for state in ("asked", "given_back"):
        Enrolment.objects.filter(pk=cast.enrolment.pk).update(state=state, place=None)
        for name, more in (("my_gear", ()), ("my_gear_add", ("lens",))):
            answer = Client().get(where(name, cast.enrolment, *more))
            assert answer.headers["Location"] == where("place", cast.enrolment)
    Client().post(where("my_gear_add", cast.enrolment, "lens"), {"focal": "24", "widest": "2"})
    assert not OwnGear.objects.exists()


def test_an_unknown_kind_is_no_page(cast: Cast) -> None:
    assert Client().get(where("my_gear_add", cast.enrolment, "anvil")).status_code == 404


def test_the_pages_carry_nothing_inline_and_tell_nobody_where_they_are(cast: Cast) -> None:
    row = gear.add_piece(cast.enrolment, CAMERA)
    for name, more in (
        ("my_gear", ()),
        ("my_gear_add", ("camera",)),
        ("my_gear_change", (row.pk,)),
    ):
        answer = Client().get(where(name, cast.enrolment, *more))
        assert answer.headers["Referrer-Policy"] == "no-referrer"
        html = answer.content.decode()
        assert not re.search(r"\sstyle=|\son\w+=|<script(?![^>]*\ssrc=)", html)


def test_a_deed_leads_back_to_its_night_and_to_the_part_where_it_was_done(cast: Cast) -> None:
    def leads(deed: str, *more: object, **typed: str) -> str:
        address = where(deed, cast.enrolment, *more)
        answer = Client().post(address, typed | {"night": str(FIRST)})
        return answer.headers["Location"].partition("?")[2]

    assert leads("my_gear_small", tape="on") == f"night={FIRST}&said=kept&at=small#small"
    added = leads("my_gear_add", "lens", focal="24", widest="2")
    number = OwnGear.objects.get(kind="lens").pk
    assert added == f"night={FIRST}&said=added&at=piece-{number}#piece-{number}"
    assert f'id="piece-{number}"' in page(cast)
    assert leads("my_gear_remove", number).endswith("said=removed&at=lenses#lenses")
    assert leads("my_gear_remove", number) == f"night={FIRST}&said=gone"


def test_what_was_done_is_said_once_where_it_was_done(cast: Cast) -> None:
    """A phone shows that part alone."""
    html = page(cast, said="kept", at="small")
    assert html.count("It is kept.") == 1
    assert html.index('id="small"') < html.index("It is kept.") < html.index('id="lack"')
    assert "It is kept." in page(cast, said="kept")
    assert "script" not in page(cast, said="<b>", at='"><b>').partition("<main")[2]


def test_a_phone_is_asked_for_its_own_lens_and_lent_no_other(cast: Cast) -> None:
    phone = Camera(sensor_width_mm=9.8, sensor_height_mm=7.3, pixels_wide=4032, pixels_high=3003)
    gear.add_piece(cast.enrolment, phone)
    told = words(page(cast))
    assert "A phone’s lens is a lens too" in told
    assert "Which lens does your phone have?" in told
    assert "No lens yet" not in told
    gear.add_piece(cast.enrolment, Lens(focal_mm=6.8, widest_f_number=1.8))
    assert "lens is a lens too" not in words(page(cast))


def test_iso_from_a_measured_sky_is_told_from_one_that_is_estimated(cast: Cast) -> None:
    for piece in (CAMERA, Lens(focal_mm=24, widest_f_number=2.8)):
        gear.add_piece(cast.enrolment, piece)
    site = cast.trip_night.spot.site
    for measured, is_estimated in ((None, True), (21.4, False)):
        site.sky_brightness, site.sky_by_azimuth = measured, []
        site.save()
        told = words(page(cast))
        assert ("too bright where many towns are near, and ISO is then too low" in told) is (
            is_estimated
        )
        assert ("under the sky as it was measured there" in told) is not is_estimated
