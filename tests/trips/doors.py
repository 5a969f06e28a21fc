"""Who may pass through which door: a line for every address and method, a column for every role.

`test_doors.py` tries them all; an address that is not here fails it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver, reverse

from tests.conftest import Cast

# The instructor leads the trip, the colleague is another member of the club.
ROLES = ["anonymous", "stranger", "colleague", "instructor", "coordinator", "superuser"]

# A superuser keeps the server; the clubs' rows are their members' alone. What ends in DO is done
# by POST, and leads back to a page.
MEMBERS = [302, 404, 200, 200, 200, 404]
MEMBERS_DO = [302, 404, 302, 302, 302, 404]
# Of a trip: whoever leads it, and the club's coordinators.
LEADERS = [302, 404, 403, 200, 200, 404]
LEADERS_DO = [302, 404, 403, 302, 302, 404]
COORDINATORS = [302, 404, 403, 403, 200, 404]
COORDINATORS_DO = [302, 404, 403, 403, 302, 404]
ANY_ACCOUNT = [302, 200, 200, 200, 200, 200]
ANYBODY = [200, 200, 200, 200, 200, 200]
NOBODY = [404, 404, 404, 404, 404, 404]
NO_SUCH_METHOD = [405, 405, 405, 405, 405, 405]

# (method, name): the status for each of ROLES. 302 of the anonymous leads to the sign-in.
MATRIX: dict[tuple[str, str], list[int]] = {
    ("GET", "home"): ANYBODY,
    ("GET", "sign_in"): [200, 302, 302, 302, 302, 302],
    ("POST", "sign_out"): [302, 302, 302, 302, 302, 302],
    ("GET", "sign_out"): NO_SUCH_METHOD,
    ("POST", "look"): [302, 302, 302, 302, 302, 302],
    ("GET", "look"): NO_SUCH_METHOD,
    ("GET", "camera"): ANYBODY,
    ("GET", "site_list"): ANY_ACCOUNT,
    ("GET", "site_add"): MEMBERS,
    ("POST", "site_add"): MEMBERS,
    ("GET", "site_detail"): MEMBERS,
    ("GET", "site_edit"): MEMBERS,
    ("POST", "site_edit"): MEMBERS,
    ("GET", "site_archive"): COORDINATORS,
    ("POST", "site_archive"): COORDINATORS_DO,
    ("GET", "night_detail"): MEMBERS,
    ("GET", "darkness_add"): MEMBERS,
    ("POST", "darkness_add"): MEMBERS,
    ("GET", "darkness_csv"): MEMBERS,
    ("GET", "darkness_table"): MEMBERS,
    ("POST", "darkness_table"): MEMBERS,
    # Of the coordinator; the instructor did not make it.
    ("GET", "reading_remove"): COORDINATORS,
    ("POST", "reading_remove"): COORDINATORS_DO,
    ("GET", "spot_add"): MEMBERS,
    ("POST", "spot_add"): MEMBERS,
    ("GET", "spot_detail"): MEMBERS,
    ("GET", "spot_frame"): MEMBERS,
    ("GET", "spot_edit"): MEMBERS,
    ("POST", "spot_edit"): MEMBERS,
    ("GET", "spot_archive"): COORDINATORS,
    ("POST", "spot_archive"): COORDINATORS_DO,
    ("GET", "spot_first"): NO_SUCH_METHOD,
    ("POST", "spot_first"): MEMBERS_DO,
    ("GET", "spot_skyline_csv"): MEMBERS,
    ("GET", "lit_then_dark"): MEMBERS,
    # No landmark has a face: back to the page that says so.
    ("GET", "lit_then_dark_csv"): MEMBERS_DO,
    ("GET", "alignments"): MEMBERS,
    # Nothing is asked yet: back to the page that asks.
    ("GET", "alignments_csv"): MEMBERS_DO,
    ("GET", "season_list"): ANY_ACCOUNT,
    ("GET", "season_add"): MEMBERS,
    ("POST", "season_add"): MEMBERS,
    ("GET", "season_detail"): MEMBERS,
    ("GET", "season_edit"): MEMBERS,
    ("POST", "season_edit"): MEMBERS,
    ("GET", "season_archive"): COORDINATORS,
    ("POST", "season_archive"): COORDINATORS_DO,
    ("GET", "season_keep"): NO_SUCH_METHOD,
    ("POST", "season_keep"): MEMBERS_DO,
    ("GET", "season_recompute"): NO_SUCH_METHOD,
    ("POST", "season_recompute"): MEMBERS_DO,
    ("GET", "season_calendar"): MEMBERS,
    ("GET", "season_nights_csv"): MEMBERS,
    ("GET", "season_compare"): MEMBERS,
    ("GET", "season_compare_csv"): MEMBERS,
    ("GET", "target_lists"): ANY_ACCOUNT,
    ("GET", "target_list_add"): MEMBERS,
    ("POST", "target_list_add"): MEMBERS,
    ("GET", "target_list_copy"): MEMBERS,
    ("POST", "target_list_copy"): MEMBERS,
    ("GET", "target_list"): MEMBERS,
    ("GET", "target_list_edit"): MEMBERS,
    ("POST", "target_list_edit"): MEMBERS,
    ("GET", "target_list_archive"): COORDINATORS,
    ("POST", "target_list_archive"): COORDINATORS_DO,
    ("GET", "target_list_csv"): MEMBERS,
    ("GET", "target_search"): MEMBERS,
    ("GET", "target_show"): MEMBERS,
    ("GET", "target_add"): NO_SUCH_METHOD,
    ("POST", "target_add"): MEMBERS_DO,
    ("GET", "camera_list"): ANY_ACCOUNT,
    ("GET", "camera_add"): MEMBERS,
    ("POST", "camera_add"): MEMBERS,
    ("GET", "camera_detail"): MEMBERS,
    ("GET", "camera_edit"): MEMBERS,
    ("POST", "camera_edit"): MEMBERS,
    ("GET", "camera_calibrate"): MEMBERS,
    ("POST", "camera_calibrate"): MEMBERS,
    ("GET", "camera_archive"): COORDINATORS,
    ("POST", "camera_archive"): COORDINATORS_DO,
    ("GET", "trip_list"): ANY_ACCOUNT,
    ("GET", "trip_add"): MEMBERS,
    ("POST", "trip_add"): MEMBERS,
    ("GET", "trip_detail"): MEMBERS,
    ("GET", "trip_history"): MEMBERS,
    ("GET", "trip_edit"): LEADERS,
    ("POST", "trip_edit"): LEADERS,
    ("GET", "trip_step"): LEADERS,
    ("POST", "trip_step"): LEADERS_DO,
    ("GET", "trip_invitation"): NO_SUCH_METHOD,
    ("POST", "trip_invitation"): LEADERS_DO,
    ("GET", "trip_invitation_paper"): LEADERS,
    ("GET", "trip_instructors"): LEADERS,
    ("POST", "trip_instructors"): LEADERS_DO,
    ("GET", "trip_instructor_off"): NO_SUCH_METHOD,
    ("POST", "trip_instructor_off"): LEADERS_DO,
    ("GET", "trip_night_add"): LEADERS,
    ("POST", "trip_night_add"): LEADERS,
    ("GET", "trip_night_edit"): LEADERS,
    ("POST", "trip_night_edit"): LEADERS,
    ("GET", "trip_night_remove"): LEADERS,
    ("POST", "trip_night_remove"): LEADERS_DO,
    ("GET", "trip_cars"): LEADERS,
    ("POST", "trip_cars"): LEADERS,
    ("GET", "trip_drivers"): LEADERS,
    # No car is written down: there is nothing to choose, and so it is saved.
    ("POST", "trip_drivers"): LEADERS_DO,
    ("GET", "trip_night_safety"): MEMBERS,
    ("GET", "trip_night_close"): LEADERS,
    ("POST", "trip_night_close"): LEADERS_DO,
    ("GET", "trip_night_reopen"): NO_SUCH_METHOD,
    ("POST", "trip_night_reopen"): LEADERS_DO,
    ("GET", "trip_night_decide"): NO_SUCH_METHOD,
    ("POST", "trip_night_decide"): LEADERS_DO,
    ("GET", "trip_night_brief"): MEMBERS,
    ("GET", "trip_night_brief_pdf"): MEMBERS,
    ("GET", "trip_night_brief_publish"): NO_SUCH_METHOD,
    ("POST", "trip_night_brief_publish"): LEADERS_DO,
    ("GET", "trip_night_brief_decide"): NO_SUCH_METHOD,
    ("POST", "trip_night_brief_decide"): LEADERS_DO,
    ("GET", "trip_night_brief_reached"): MEMBERS,
    ("GET", "trip_night_brief_part"): NO_SUCH_METHOD,
    ("POST", "trip_night_brief_part"): LEADERS_DO,
    # Nothing is published.
    ("GET", "trip_night_brief_version"): [302, 404, 404, 404, 404, 404],
    ("GET", "trip_night_log"): LEADERS,
    ("POST", "trip_night_log"): LEADERS,
    ("GET", "site_months"): MEMBERS,
    ("POST", "site_months"): MEMBERS_DO,
    ("GET", "trip_people_csv"): LEADERS,
    ("GET", "enrolment_remove"): LEADERS,
    ("POST", "enrolment_remove"): LEADERS_DO,
    ("GET", "enrolment_no_show"): NO_SUCH_METHOD,
    ("POST", "enrolment_no_show"): LEADERS_DO,
    ("GET", "enrolment_came"): NO_SUCH_METHOD,
    ("POST", "enrolment_came"): LEADERS_DO,
    ("GET", "enrolment_move_up"): NO_SUCH_METHOD,
    ("POST", "enrolment_move_up"): LEADERS_DO,
    ("GET", "enrolment_new_link"): NO_SUCH_METHOD,
    ("POST", "enrolment_new_link"): LEADERS_DO,
    ("GET", "letter_again"): NO_SUCH_METHOD,
    ("POST", "letter_again"): LEADERS_DO,
    ("GET", "job_list"): ANY_ACCOUNT,
    ("GET", "jobs_open"): ANY_ACCOUNT,
    ("GET", "job_detail"): MEMBERS,
    ("GET", "job_progress"): MEMBERS,
    ("GET", "job_again"): NO_SUCH_METHOD,
    ("POST", "job_again"): MEMBERS_DO,
    ("GET", "job_stop"): NO_SUCH_METHOD,
    ("POST", "job_stop"): MEMBERS_DO,
    ("GET", "group_targets"): MEMBERS,
    ("GET", "rota_add"): LEADERS,
    ("POST", "rota_add"): LEADERS,
    # No button of the form was pressed.
    ("POST", "rota_change"): [302, 404, 403, 404, 404, 404],
    ("GET", "rota_change"): NO_SUCH_METHOD,
    ("POST", "count_link_renew"): LEADERS_DO,
    ("GET", "count_link_renew"): NO_SUCH_METHOD,
    # Behind a private link, which is guessed here: test_doors_by_link tries the right ones.
    ("GET", "head_count"): NOBODY,
    ("POST", "head_count"): NOBODY,
    ("POST", "head_count_ticks"): NOBODY,
    ("GET", "head_count_ticks"): NO_SUCH_METHOD,
    ("POST", "head_count_close"): NOBODY,
    ("GET", "head_count_close"): NO_SUCH_METHOD,
    ("GET", "head_count_paper"): NOBODY,
    ("GET", "head_count_worker"): NOBODY,
    ("GET", "place"): NOBODY,
    ("POST", "place"): NOBODY,
    ("GET", "place_worker"): NOBODY,
    ("GET", "brief_read"): NOBODY,
    ("GET", "brief_file"): NOBODY,
    ("GET", "brief_pdf"): NOBODY,
    ("GET", "brief_text"): NOBODY,
    ("GET", "place_confirm"): NO_SUCH_METHOD,
    ("POST", "place_confirm"): NOBODY,
    ("GET", "place_give_back"): NOBODY,
    ("POST", "place_give_back"): NOBODY,
    ("GET", "place_new_link"): NO_SUCH_METHOD,
    ("POST", "place_new_link"): NOBODY,
    ("GET", "place_export"): NOBODY,
    ("GET", "place_forget"): NOBODY,
    ("POST", "place_forget"): NOBODY,
    ("GET", "trip_calendar"): LEADERS,
    ("POST", "trip_calendar"): LEADERS_DO,
    ("GET", "place_calendar"): NO_SUCH_METHOD,
    ("POST", "place_calendar"): NOBODY,
    ("GET", "calendar_feed"): NOBODY,
    ("GET", "loan_kit"): ANY_ACCOUNT,
    ("GET", "loan_grant"): NO_SUCH_METHOD,
    ("POST", "loan_grant"): LEADERS_DO,
    ("GET", "loan_refuse"): NO_SUCH_METHOD,
    ("POST", "loan_refuse"): LEADERS_DO,
    ("GET", "enrolment_lend"): NO_SUCH_METHOD,
    # No piece is named.
    ("POST", "enrolment_lend"): [302, 404, 403, 404, 404, 404],
    ("GET", "trip_lend"): NO_SUCH_METHOD,
    ("POST", "trip_lend"): LEADERS_DO,
    ("GET", "trip_gear_csv"): MEMBERS,
    ("GET", "loan_item_add"): MEMBERS,
    ("POST", "loan_item_add"): MEMBERS,
    ("GET", "loan_item_edit"): MEMBERS,
    ("POST", "loan_item_edit"): MEMBERS,
    ("GET", "loan_item_archive"): COORDINATORS,
    ("POST", "loan_item_archive"): COORDINATORS_DO,
    ("GET", "my_gear"): NOBODY,
    ("GET", "my_gear_add"): NOBODY,
    ("POST", "my_gear_add"): NOBODY,
    ("GET", "my_gear_change"): NOBODY,
    ("POST", "my_gear_change"): NOBODY,
    ("GET", "my_gear_remove"): NO_SUCH_METHOD,
    ("POST", "my_gear_remove"): NOBODY,
    ("GET", "my_gear_small"): NO_SUCH_METHOD,
    ("POST", "my_gear_small"): NOBODY,
    ("GET", "my_gear_copy"): NO_SUCH_METHOD,
    ("POST", "my_gear_copy"): NOBODY,
    ("GET", "my_gear_ask"): NO_SUCH_METHOD,
    ("POST", "my_gear_ask"): NOBODY,
    ("GET", "my_gear_withdraw"): NO_SUCH_METHOD,
    ("POST", "my_gear_withdraw"): NOBODY,
    ("GET", "invitation"): NOBODY,
    ("POST", "invitation"): NOBODY,
    # A draft has no open page.
    ("GET", "join"): NOBODY,
    ("POST", "join"): NOBODY,
    # Only under the demo settings; the token in this address is nobody's.
    ("GET", "demo_sign_in"): ANYBODY,
    ("POST", "demo_sign_in"): [410, 410, 410, 410, 410, 410],
}
# All that can be looked at.
LOOKED_AT = sorted({name for way, name in MATRIX if way == "GET"})


def address(name: str, cast: Cast, **other: object) -> str:
    """Give the address of a page of the cast's; `other` parts of it are the test's own."""
    values: dict[str, Any] = {
        "organisation_id": cast.club.pk,
        "site_id": cast.site.pk,
        "season_id": cast.season.pk,
        "job_id": cast.job.pk,
        "spot_id": cast.spot.pk,
        "list_id": cast.target_list.pk,
        "camera_id": cast.camera.pk,
        "reading_id": cast.reading.pk,
        "night": cast.season.first_night,
        "evening": cast.season.first_night,
        "trip_id": cast.trip.pk,
        "night_id": cast.trip_night.pk,
        "instructor_id": cast.trip_instructor.pk,
        "rota_id": cast.rota.pk,
        "token": "no-such-token",
        "uid": cast.trip.uid,
        "enrolment_id": cast.enrolment.pk,
        "letter_id": cast.letter.pk,
        "item_id": cast.loan_item.pk,
        "loan_id": cast.loan.pk,
        "kind": "lens",
        "number": 1,
        "part": "focus",
        **other,
    }
    wanted = {key for pattern in patterns() if pattern.name == name
              for key in pattern.pattern.converters}  # fmt: skip
    return reverse(name, kwargs={key: values[key] for key in wanted})


def patterns(resolver: URLResolver | None = None) -> Iterator[URLPattern]:
    for found in (resolver or get_resolver()).url_patterns:
        if isinstance(found, URLResolver):
            if found.namespace != "admin":  # tried as a whole, below
                yield from patterns(found)
        else:
            yield found
