"""Every page of the club, by name: where it is and what must be done before it is looked at."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse
from playwright.sync_api import FilePayload, Page

Facts = dict[str, Any]


def _as_it_is(_page: Page) -> None:
    """Leave the page as it came."""


@dataclass(frozen=True, slots=True)
class Place:
    """A page: its address from the club's facts, who looks, and what is done first."""

    address: Callable[[Facts], str]
    who: str = "coordinator"
    status: int = 200
    prepare: Callable[[Page], None] = _as_it_is


def _refused_site(page: Page) -> None:
    page.locator("main form").first.evaluate("form => { form.noValidate = true }")
    page.get_by_label("Latitude").fill("95")
    page.get_by_label("Longitude").fill("-1.1")
    page.locator("main form button.main:visible").first.click()
    page.wait_for_load_state()


def _refused_list(page: Page) -> None:
    page.locator("main form").first.evaluate("form => { form.noValidate = true }")
    page.locator("[name$=weight]").first.fill("2")
    page.locator("main form button.main:visible").first.click()
    page.wait_for_load_state()


def _refused_trip(page: Page) -> None:
    page.locator("main form").first.evaluate("form => { form.noValidate = true }")
    page.locator("main [name=capacity]").fill("0")
    page.locator("main form button.main:visible").first.click()
    page.wait_for_load_state()


def _echoed_readings(page: Page) -> None:
    page.get_by_label("Evening of").fill("2026-03-03")
    page.get_by_label("Time", exact=True).fill("23:40")
    page.locator("[name=readings-0-level]").fill("3 %")
    for name, typed in (("f_number", "2.8"), ("seconds", "20"), ("iso", "3200")):
        page.locator(f"[name={name}]").fill(typed)
    page.get_by_label("Camera", exact=True).select_option(index=1)
    page.locator("main form button.main:visible").first.click()
    page.locator("#echo").wait_for()


def _refused_table(page: Page) -> None:
    wrong = b"time,magnitude\n2026-03-03 23:40,9\nsoon,21.4\n"
    sent: FilePayload = {"name": "log.csv", "mimeType": "text/csv", "buffer": wrong}
    page.locator("[name=table]").set_input_files(sent)
    page.locator("main form button.main:visible").first.click()
    page.get_by_text("“soon” is no time").first.wait_for()


def _refused_asking(page: Page) -> None:
    page.locator("main form").first.evaluate("form => { form.noValidate = true }")
    page.get_by_label("Your mail address").fill("nobody")
    page.locator("main form button.main:visible").first.click()
    page.locator(".mistakes").wait_for()


def _opened_details(page: Page) -> None:
    page.get_by_text("Read or change it").click()
    page.get_by_text("Health, only if you want").click()


def targets(facts: Facts, asked: str) -> str:
    return reverse("target_search", args=[facts["club"]]) + "?" + urlencode({"q": asked})


def season(facts: Facts) -> str:
    return reverse("season_detail", args=[facts["seasons"]["whole"]])


def night(facts: Facts, site: str, evening: str) -> str:
    return f"/sites/{facts['sites'][site]}/nights/{evening}/"


PAGES: dict[str, Place] = {
    "sign-in": Place(lambda _: reverse("sign_in"), who="nobody"),
    "camera": Place(lambda _: reverse("camera"), who="nobody"),
    "home": Place(lambda _: reverse("home")),
    "home-empty": Place(lambda _: reverse("home"), who="newcomer"),
    "site-list": Place(lambda _: reverse("site_list")),
    "site": Place(lambda facts: reverse("site_detail", args=[facts["sites"]["broom"]])),
    "site-form": Place(
        lambda facts: reverse("site_add", args=[facts["club"]]), prepare=_refused_site
    ),
    "site-archive": Place(lambda facts: reverse("site_archive", args=[facts["sites"]["heron"]])),
    "spot": Place(lambda facts: reverse("spot_detail", args=[facts["spot"]])),
    "spot-night": Place(
        lambda facts: (
            reverse("spot_detail", args=[facts["spot"]])
            + "?target=Jupiter;M+31;Galactic+core&night=2027-03-09"
        )
    ),
    "spot-frame": Place(
        lambda facts: (
            reverse("spot_frame", args=[facts["spot"]])
            + "?target=Galactic+core&night=2027-07-03&focal=35"
        )
    ),
    "spot-form": Place(lambda facts: reverse("spot_edit", args=[facts["spot"]])),
    "spot-add": Place(lambda facts: reverse("spot_add", args=[facts["sites"]["heron"]])),
    "spot-archive": Place(lambda facts: reverse("spot_archive", args=[facts["spot"]])),
    "lit-then-dark": Place(lambda facts: reverse("lit_then_dark", args=[facts["spot"]])),
    "season-list": Place(lambda _: reverse("season_list")),
    "season": Place(season),
    "season-polar": Place(lambda facts: f"{season(facts)}?site={facts['sites']['fjord']}"),
    "season-empty": Place(lambda facts: reverse("season_detail", args=[facts["seasons"]["empty"]])),
    "season-waiting": Place(
        lambda facts: reverse("season_detail", args=[facts["seasons"]["waiting"]])
    ),
    "season-archive": Place(
        lambda facts: reverse("season_archive", args=[facts["seasons"]["empty"]])
    ),
    "calendar": Place(lambda facts: reverse("season_calendar", args=[facts["seasons"]["whole"]])),
    "season-add": Place(lambda facts: reverse("season_add", args=[facts["club"]])),
    "season-form": Place(lambda facts: reverse("season_edit", args=[facts["seasons"]["whole"]])),
    "compare": Place(lambda facts: reverse("season_compare", args=[facts["seasons"]["whole"]])),
    "night": Place(lambda facts: night(facts, "broom", "2027-07-03")),
    "night-eclipse": Place(lambda facts: night(facts, "broom", "2027-08-02")),
    "night-polar": Place(lambda facts: night(facts, "fjord", "2027-06-20")),
    "alignments": Place(
        lambda facts: (
            reverse("alignments", args=[facts["sites"]["broom"]])
            + f"?target=Galactic+core&azimuth=180&season={facts['seasons']['whole']}"
        )
    ),
    "target-lists": Place(lambda _: reverse("target_lists")),
    "target-list": Place(lambda facts: reverse("target_list", args=[facts["target list"]])),
    "target-list-form": Place(
        lambda facts: reverse("target_list_edit", args=[facts["target list"]]),
        prepare=_refused_list,
    ),
    "target-list-add": Place(lambda facts: reverse("target_list_add", args=[facts["club"]])),
    "target-list-copy": Place(lambda facts: reverse("target_list_copy", args=[facts["club"]])),
    "target-list-archive": Place(
        lambda facts: reverse("target_list_archive", args=[facts["target list"]])
    ),
    "target-search": Place(lambda facts: targets(facts, "47 Tucanae")),
    "target-search-all": Place(lambda facts: targets(facts, "")),
    "target-search-unknown": Place(lambda facts: targets(facts, "Andromda Galaxy")),
    "target": Place(
        lambda facts: reverse("target_show", args=[facts["club"]]) + "?target=deep-sky:NGC0224"
    ),
    "camera-list": Place(lambda _: reverse("camera_list")),
    "camera-club": Place(lambda facts: reverse("camera_detail", args=[facts["camera"]])),
    "camera-form": Place(lambda facts: reverse("camera_edit", args=[facts["camera"]])),
    "camera-calibrate": Place(lambda facts: reverse("camera_calibrate", args=[facts["camera"]])),
    "camera-archive": Place(lambda facts: reverse("camera_archive", args=[facts["camera"]])),
    "darkness-add": Place(
        lambda facts: reverse("darkness_add", args=[facts["sites"]["broom"]]) + "?how=frame",
        prepare=_echoed_readings,
    ),
    "darkness-table": Place(
        lambda facts: reverse("darkness_table", args=[facts["sites"]["broom"]]),
        prepare=_refused_table,
    ),
    "reading-remove": Place(lambda facts: reverse("reading_remove", args=[facts["reading"]])),
    "trip-list": Place(lambda _: reverse("trip_list")),
    "trip-add": Place(
        lambda facts: (
            reverse("trip_add", args=[facts["club"]])
            + f"?season={facts['seasons']['whole']}&site={facts['sites']['broom']}"
            + "&first=2027-03-05&last=2027-03-07"
        )
    ),
    "trip-form": Place(
        lambda facts: reverse("trip_edit", args=[facts["trip"]]), prepare=_refused_trip
    ),
    "trip-night-form": Place(lambda facts: reverse("trip_night_edit", args=[facts["trip night"]])),
    "trip-night-brief": Place(
        lambda facts: reverse("trip_night_brief", args=[facts["trip night"]])
    ),
    "trip-night-remove": Place(
        lambda facts: reverse("trip_night_remove", args=[facts["trip night"]])
    ),
    "trip-instructors": Place(lambda facts: reverse("trip_instructors", args=[facts["trip"]])),
    "trip-invitation": Place(lambda facts: reverse("trip_invitation_paper", args=[facts["trip"]])),
    "trip-history": Place(lambda facts: reverse("trip_history", args=[facts["trip"]])),
    "trip-calendar": Place(lambda facts: reverse("trip_calendar", args=[facts["trip"]])),
    "trip-cancel": Place(lambda facts: reverse("trip_step", args=[facts["trip"]])),
    "trip": Place(lambda facts: reverse("trip_detail", args=[facts["trip"]])),
    "trip-night": Place(lambda facts: reverse("trip_night_safety", args=[facts["trip night"]])),
    "trip-night-close": Place(
        lambda facts: reverse("trip_night_close", args=[facts["trip night"]])
    ),
    "trip-night-log": Place(lambda facts: reverse("trip_night_log", args=[facts["trip night"]])),
    "trip-cars": Place(lambda facts: reverse("trip_cars", args=[facts["trip"]])),
    "trip-drivers": Place(lambda facts: reverse("trip_drivers", args=[facts["trip"]])),
    "rota-form": Place(lambda facts: reverse("rota_add", args=[facts["trip night"]])),
    "site-months": Place(lambda facts: reverse("site_months", args=[facts["sites"]["broom"]])),
    "join": Place(
        lambda facts: reverse("invitation", args=[facts["links"]["invitation"]]),
        who="nobody",
        prepare=_refused_asking,
    ),
    "join-asked": Place(
        lambda facts: reverse("join", args=[facts["open page"]]) + "?asked=1", who="nobody"
    ),
    "place": Place(
        lambda facts: reverse("place", args=[facts["links"]["person"]]),
        who="nobody",
        prepare=_opened_details,
    ),
    "brief": Place(
        lambda facts: reverse("place", args=[facts["links"]["person"]]) + facts["evening"] + "/",
        who="nobody",
    ),
    "place-give-back": Place(
        lambda facts: reverse("place_give_back", args=[facts["links"]["person"]]), who="nobody"
    ),
    "place-forget": Place(
        lambda facts: reverse("place_forget", args=[facts["links"]["person"]]), who="nobody"
    ),
    "link-missing": Place(lambda _: reverse("place", args=["none"]), who="nobody", status=404),
    "enrolment-remove": Place(lambda facts: reverse("enrolment_remove", args=[facts["enrolment"]])),
    "head-count": Place(
        lambda facts: reverse("head_count", args=[facts["links"]["head count"]]), who="nobody"
    ),
    "head-count-paper": Place(
        lambda facts: reverse("head_count_paper", args=[facts["links"]["head count"]]),
        who="nobody",
    ),
    "my-gear": Place(
        lambda facts: reverse("my_gear", args=[facts["links"]["person"]]), who="nobody"
    ),
    "my-gear-camera": Place(
        lambda facts: reverse("my_gear_add", args=[facts["links"]["person"], "camera"]),
        who="nobody",
    ),
    "loan-kit": Place(lambda _: reverse("loan_kit")),
    "loan-item-form": Place(
        lambda facts: reverse("loan_item_add", args=[facts["club"], "support"])
    ),
    "job": Place(lambda facts: reverse("job_detail", args=[facts["jobs"]["running"]])),
    "job-failed": Place(lambda facts: reverse("job_detail", args=[facts["jobs"]["failed"]])),
    "job-list": Place(lambda _: reverse("job_list")),
    "missing": Place(lambda _: "/seasons/999999/", status=404),
}

# The same of a club with two hundred sites, named in many scripts.
CROWDED: dict[str, Place] = {
    "crowded-home": Place(lambda _: reverse("home"), who="archivist"),
    "crowded-site-list": Place(lambda _: reverse("site_list"), who="archivist"),
    "crowded-season": Place(
        lambda facts: reverse("season_detail", args=[facts["seasons"]["crowded"]]),
        who="archivist",
    ),
    "crowded-season-form": Place(
        lambda facts: reverse("season_edit", args=[facts["seasons"]["crowded"]]),
        who="archivist",
    ),
    "crowded-compare": Place(
        lambda facts: reverse("season_compare", args=[facts["seasons"]["crowded"]]),
        who="archivist",
    ),
}

# Made of nothing that another page does not have: looked at once, on a phone and by night.
LIKE_OTHERS = {"head-count-paper", "my-gear-camera", "loan-kit",
               "trip-list", "trip-add", "trip-form", "trip-night-form", "trip-night-remove",
               "trip-night-brief", "night-eclipse", "spot-form", "season-form", "target-list-form",
               "trip-instructors", "trip-history", "trip-calendar", "trip-cancel",
               "trip-invitation",
               "trip-night", "trip-night-close", "trip-night-log", "trip-cars", "trip-drivers",
               "rota-form", "site-months", "loan-item-form",
               "join-asked", "place-give-back", "place-forget", "link-missing", "enrolment-remove",
               "camera-list", "camera-club", "camera-form", "camera-calibrate", "camera-archive",
               "darkness-table", "reading-remove", "home-empty", "season-polar", "season-empty",
               "season-waiting",
               "night-polar",
               "site-archive", "season-archive", "site-list", "job-list", "job-failed",
               "season-add", "spot-night", "spot-add", "spot-archive", "target-list-add",
               "target-list-archive", "target-list-copy", "target-search-all",
               "target-search-unknown"}  # fmt: skip
