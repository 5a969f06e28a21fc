"""The brief of a night in its instructor's hand."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.trips.briefed import make_briefed, make_plans, the_night
from tests.trips.joined import placed
from tests.trips.qr_read import qr_read
from trips.models import (
    Brief,
    BriefNote,
    Letter,
    Membership,
    Site,
    Spot,
    TargetEntry,
    TargetList,
    Trip,
    TripNight,
    User,
)
from trips.services.links import token_of
from trips.services.refusals import RefusedError
from trips.views import brief_hand

pytestmark = pytest.mark.django_db


@pytest.fixture
def night() -> TripNight:
    return the_night(make_briefed())


@pytest.fixture
def led(night: TripNight) -> Client:
    user = night.trip.instructors.get().user
    Membership.objects.create(
        organisation=night.trip.organisation, user=user, role=Membership.Role.INSTRUCTOR
    )
    client = Client()
    client.force_login(user)
    return client


def at(night: TripNight, what: str = "", **more: Any) -> str:
    return reverse(f"trip_night_brief{what}", kwargs={"night_id": night.pk, **more})


def section(page: str, named: str) -> str:
    """Give one section of a page."""
    (found,) = re.findall(rf'<section[^>]*aria-labelledby="{named}".*?</section>', page, re.S)
    return str(found)


def write(led: Client, night: TripNight, part: str, **typed: Any) -> Any:
    return led.post(at(night, "_part", part=part), {"version": 0, **typed})


def test_what_is_written_stands_beside_what_is_computed_as_text(
    led: Client, night: TripNight
) -> None:
    write(led, night, "focus", text="<script>1</script> ⭐ שלום")
    page = led.get(at(night)).content.decode()
    assert "&lt;script&gt;1&lt;/script&gt; ⭐ שלום" in page
    assert "<script>1" not in page


def test_empty_words_take_a_note_away(led: Client, night: TripNight) -> None:
    write(led, night, "focus", text="Bring a loupe.")
    write(led, night, "focus", text="  ", version=1)
    assert not BriefNote.objects.exists()


def test_the_second_of_two_editors_is_told_and_loses_nothing(led: Client, night: TripNight) -> None:
    write(led, night, "focus", text="first")
    answer = write(led, night, "focus", text="second")
    assert answer.status_code == 422
    assert "second</textarea>" in answer.content.decode()
    assert BriefNote.objects.get().text == "first"


@pytest.mark.parametrize("part", ["help", "rules", "dangers", "cautions"])
def test_what_keeps_people_safe_is_added_to_and_never_replaced(
    led: Client, night: TripNight, part: str
) -> None:
    assert write(led, night, part, text="mine", is_instead="on").status_code == 422
    assert write(led, night, part, text="mine").status_code == 302
    assert BriefNote.objects.get().is_instead is False


def test_a_part_holds_20_000_characters_and_not_one_more(led: Client, night: TripNight) -> None:
    assert write(led, night, "focus", text="a" * 20_001).status_code == 422
    assert write(led, night, "focus", text="a" * 20_000).status_code == 302


def test_an_unknown_part_is_no_page(led: Client, night: TripNight) -> None:
    assert write(led, night, "weather", text="a").status_code == 404


def test_a_double_tap_publishes_once_and_mails_only_when_told(
    led: Client, night: TripNight
) -> None:
    for _ in range(2):
        led.post(at(night, "_publish"), {"expects": "1"})
    brief = Brief.objects.get()
    assert not brief.is_mailed
    assert led.get(at(night, "_version", number=1)).status_code == 200


def move_the_site() -> None:
    Site.objects.update(latitude=41.9, longitude=-1.1)
    Spot.objects.update(latitude=41.9, longitude=-1.1)


def want_a_nebula_too() -> None:
    TargetEntry.objects.create(
        target_list=TargetList.objects.get(), target="deep-sky:NGC7000", name="North America",
        weight=1.0, light="dark", field_degrees=5.0,
    )  # fmt: skip


def rewrite_the_meeting_point() -> None:
    TripNight.objects.update(meeting_point="The mill")


def write_a_note() -> None:
    BriefNote.objects.create(night=TripNight.objects.earliest("date"), part="bring", text="A rope.")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (move_the_site, "Position to read out: Wall, Hill, 41.9000° north"),
        (
            want_a_nebula_too,
            "Targets, in order: Galactic core, North America. Before: Galactic core.",
        ),
        (rewrite_the_meeting_point, "Meet: The mill. Before: The chapel."),
        (write_a_note, "Clothing and battery: who leads wrote into it."),
    ],
)
def test_what_changed_after_publishing_is_said_and_nothing_where_nothing_did(
    led: Client, night: TripNight, change: Callable[[], None], words: str
) -> None:
    led.post(at(night, "_publish"), {"expects": "1"})
    page = led.get(at(night)).content.decode()
    assert "Nothing: version 1 says all of it." in page
    assert "Publish version 2" not in page
    change()
    page = led.get(at(night)).content.decode()
    assert words in page
    assert "Publish version 2" in page


def decide(led: Client, night: TripNight, decision: str, **typed: str) -> str:
    data = {"decision": decision, "seen": "", "publishes": "on"} | typed
    answer = led.post(at(night, "_decide"), data, follow=True)
    assert answer.redirect_chain[-1][0] == at(night)
    return answer.content.decode()


def test_one_press_decides_and_publishes_and_the_page_says_what_was_done(
    led: Client, night: TripNight
) -> None:
    placed(night.trip)
    page = decide(led, night, "go")
    assert "1 person with a place is mailed at once. Version 1 is published and says so." in page
    assert "We go." in page
    assert Brief.objects.get().facts["glance"]["state"] == "go"


def test_without_the_tick_it_is_decided_alone(led: Client, night: TripNight) -> None:
    typed = {"decision": "no_go", "seen": ""}
    page = led.post(at(night, "_decide"), typed, follow=True).content.decode()
    assert "No brief is published: nobody can read one yet." in page
    assert not Brief.objects.exists()
    assert the_night(night.trip).decision == "no_go"


@pytest.mark.parametrize("wrong", ["", "second", "perhaps", "go\0"])
def test_a_refusal_is_said_on_the_page_and_leaves_nothing(
    led: Client, night: TripNight, wrong: str
) -> None:
    TripNight.objects.update(closed_at=night.meeting_at)
    page = decide(led, night, wrong)
    assert 'class="said"' in page
    assert the_night(night.trip).decision == ""
    assert not Brief.objects.exists()


def test_where_no_brief_can_be_computed_the_page_says_why_and_still_decides(
    led: Client, night: TripNight, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise RefusedError("The clocks left this date out.")

    monkeypatch.setattr(brief_hand, "draft_of", fails)
    answer = led.get(at(night))
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "The clocks left this date out." in page
    assert "it is decided alone" in page
    assert 'name="publishes"' not in page


def test_a_colleague_reads_all_of_it_and_is_offered_no_deed(led: Client, night: TripNight) -> None:
    write(led, night, "focus", text="Ask me.")
    colleague = User.objects.create_user("colleague@meadow.example")
    Membership.objects.create(
        organisation=night.trip.organisation, user=colleague, role=Membership.Role.INSTRUCTOR
    )
    led.force_login(colleague)
    page = led.get(at(night)).content.decode()
    assert "Ask me." in page
    assert "What is lacking" in page
    for offered in ("<textarea", "Publish version", "We do not go", "Mend it"):
        assert offered not in page


def test_a_night_that_is_over_offers_no_decision_and_no_mail(
    led: Client, night: TripNight, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "We do not go" in led.get(at(night)).content.decode()
    monkeypatch.setattr(timezone, "now", lambda: night.ends_at)
    led.force_login(night.trip.instructors.get().user)
    page = led.get(at(night)).content.decode()
    assert "This night is over" in page
    assert "We do not go" not in page
    assert 'name="is_mailed"' not in page
    assert "This night is over" in decide(led, night, "go")


def test_where_people_have_a_place_the_page_asks_how_far_plans_are_until_they_are_made(
    led: Client, night: TripNight
) -> None:
    placed(night.trip)
    led.post(at(night, "_publish"), {"expects": "1", "is_mailed": "on"})
    reached = at(night, "_reached")
    assert "hx-get" in led.get(reached).content.decode()
    make_plans()
    page = led.get(reached).content.decode()
    assert "Personal plans: 1 of 1 made. Letters: 0 gone, 1 waiting." in " ".join(page.split())
    Letter.objects.update(state="failed", attempts=4, error="<b>no such box</b>")
    page = led.get(reached).content.decode()
    assert "hx-get" not in page
    assert "refused 4 times, and given up" in page
    assert "&lt;b&gt;no such box&lt;/b&gt;" in page


def test_a_saved_part_says_so_where_it_stands_and_the_others_do_not(
    led: Client, night: TripNight
) -> None:
    answer = led.post(at(night, "_part", part="focus"), {"version": 0, "text": "Look."})
    assert answer.headers["Location"].endswith("?saved=focus#hand-focus")
    page = led.get(answer.headers["Location"]).content.decode()
    assert page.count("Saved. People read it once it is published.") == 1
    assert "Saved." not in led.get(at(night) + "?saved=<script>").content.decode()


def test_a_refused_part_is_swapped_in_by_script_and_is_an_error_to_everybody_else(
    led: Client, night: TripNight
) -> None:
    typed = {"version": "abc", "text": "mine", "is_instead": "on"}
    by_script = led.post(at(night, "_part", part="help"), typed, headers={"HX-Request": "true"})
    assert by_script.status_code == 200
    assert "mine</textarea>" in by_script.content.decode()
    assert led.post(at(night, "_part", part="help"), typed).status_code == 422


def test_what_is_written_instead_leaves_the_computed_to_be_looked_at(
    led: Client, night: TripNight
) -> None:
    def ids() -> list[str]:
        page = led.get(at(night)).content.decode()
        return re.findall(r' id="([^"]+)"', page)

    assert "computed-focus" not in ids()
    write(led, night, "focus", text="Ask me.", is_instead="on")
    assert "computed-focus" in ids()
    assert len(ids()) == len(set(ids()))


def test_a_cancelled_trip_publishes_nothing_and_says_so(led: Client, night: TripNight) -> None:
    Trip.objects.update(status=Trip.Status.CANCELLED)
    answer = led.post(at(night, "_publish"), {"expects": "1"}, follow=True)
    assert "This trip is cancelled" in answer.content.decode()
    assert not Brief.objects.exists()


def test_the_board_says_which_version_people_read_or_that_there_is_none(
    led: Client, night: TripNight
) -> None:
    board = reverse("trip_detail", args=[night.trip_id])
    assert "brief: not published" in led.get(board).content.decode()
    led.post(at(night, "_publish"), {"expects": "1"})
    assert "brief: version 1" in led.get(board).content.decode()


def test_the_invitation_is_a_square_for_phones_on_the_board_and_a_place_is_on_its_own_page(
    led: Client, night: TripNight
) -> None:
    mine = reverse("place", args=[token_of(placed(night.trip))])
    page = Client().get(mine).content.decode()
    assert qr_read(page) == f"{settings.FIELDNIGHTS_ADDRESS}{mine}"
    board = led.get(reverse("trip_detail", args=[night.trip_id])).content.decode()
    invitation = qr_read(section(board, "invitation"))
    assert Client().get(urlsplit(invitation).path).status_code == 200
    assert "/j/" in invitation


def test_the_invitation_on_paper_is_the_same_square_over_its_address_in_words(
    led: Client, night: TripNight
) -> None:
    paper = reverse("trip_invitation_paper", args=[night.trip_id])
    page = led.get(paper).content.decode()
    invitation = qr_read(page)
    assert f'<bdi dir="ltr">{invitation}</bdi>' in page
    assert "Saturday 5 to Sunday 6 June 2027" in page
    Trip.objects.update(status=Trip.Status.CANCELLED)
    assert led.get(paper).status_code == 404


def test_ones_own_head_count_is_a_square_and_nobody_elses_is(led: Client, night: TripNight) -> None:
    board = led.get(reverse("trip_detail", args=[night.trip_id])).content.decode()
    own = night.trip.instructors.get()
    assert qr_read(section(board, "counts")).endswith(reverse("head_count", args=[token_of(own)]))
    colleague = User.objects.create_user("colleague@meadow.example")
    Membership.objects.create(
        organisation=night.trip.organisation, user=colleague, role=Membership.Role.INSTRUCTOR
    )
    led.force_login(colleague)
    board = led.get(reverse("trip_detail", args=[night.trip_id])).content.decode()
    assert 'class="qr"' not in section(board, "counts")


def test_a_polar_day_is_a_brief_without_targets_and_no_broken_page(
    led: Client, night: TripNight
) -> None:
    Site.objects.update(latitude=69.7, longitude=18.9, zone="Europe/Oslo")
    Spot.objects.update(latitude=69.7, longitude=18.9)
    assert "No dark" in led.get(at(night)).content.decode()
