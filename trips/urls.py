"""The addresses of the pages. Objects are named by number; who may see them is `for_member`."""

from __future__ import annotations

from datetime import date

from django.urls import path, register_converter

from trips.views import (
    account,
    alignments,
    brief_deeds,
    brief_hand,
    brief_paper,
    brief_read,
    calendar_feeds,
    calendars,
    camera,
    camera_editing,
    cameras,
    comparing,
    count_links,
    darkness,
    darkness_adding,
    enrolments,
    frames,
    group_targets,
    head_count,
    home,
    jobs,
    joining,
    lit_then_dark,
    loan_deeds,
    loan_kit,
    look,
    my_gear,
    my_gear_deeds,
    nights,
    place,
    rotas,
    season_editing,
    seasons,
    site_editing,
    site_months,
    sites,
    spot_editing,
    spots,
    target_list_editing,
    target_lists,
    target_search,
    target_show,
    trip_board,
    trip_cars,
    trip_editing,
    trip_night_deeds,
    trip_night_editing,
    trip_safety,
    trip_steps,
    trips,
)


class DateConverter:
    """A date as 2027-03-05; what is no date is no page."""

    regex = r"\d{4}-\d{2}-\d{2}"

    def to_python(self, value: str) -> date:
        return date.fromisoformat(value)

    def to_url(self, value: date) -> str:
        return value.isoformat()


register_converter(DateConverter, "date")

urlpatterns = [
    path("", home.home, name="home"),
    path("sign-in/", account.SignIn.as_view(), name="sign_in"),
    path("sign-out/", account.SignOut.as_view(), name="sign_out"),
    path("look/", look.look, name="look"),
    path("camera/", camera.camera, name="camera"),
    path("sites/", sites.site_list, name="site_list"),
    path("organisations/<int:organisation_id>/sites/add/", site_editing.site_add, name="site_add"),
    path("sites/<int:site_id>/", sites.site_detail, name="site_detail"),
    path("sites/<int:site_id>/edit/", site_editing.site_edit, name="site_edit"),
    path("sites/<int:site_id>/archive/", sites.site_archive, name="site_archive"),
    path("sites/<int:site_id>/nights/<date:night>/", nights.night_detail, name="night_detail"),
    path("sites/<int:site_id>/alignments/", alignments.alignments, name="alignments"),
    path("sites/<int:site_id>/alignments.csv", alignments.alignments_csv, name="alignments_csv"),
    path("sites/<int:site_id>/spots/add/", spot_editing.spot_add, name="spot_add"),
    path("sites/<int:site_id>/darkness/add/", darkness_adding.darkness_add, name="darkness_add"),
    path("sites/<int:site_id>/darkness/table/", darkness.darkness_table, name="darkness_table"),
    path("sites/<int:site_id>/darkness.csv", darkness.darkness_csv, name="darkness_csv"),
    path("readings/<int:reading_id>/remove/", darkness.reading_remove, name="reading_remove"),
    path("spots/<int:spot_id>/", spots.spot_detail, name="spot_detail"),
    path("spots/<int:spot_id>/frame/", frames.spot_frame, name="spot_frame"),
    path("spots/<int:spot_id>/edit/", spot_editing.spot_edit, name="spot_edit"),
    path("spots/<int:spot_id>/archive/", spots.spot_archive, name="spot_archive"),
    path("spots/<int:spot_id>/first/", spots.spot_first, name="spot_first"),
    path("spots/<int:spot_id>/skyline.csv", spots.spot_skyline_csv, name="spot_skyline_csv"),
    path("spots/<int:spot_id>/lit-then-dark/", lit_then_dark.lit_then_dark, name="lit_then_dark"),
    path(
        "spots/<int:spot_id>/lit-then-dark.csv",
        lit_then_dark.lit_then_dark_csv,
        name="lit_then_dark_csv",
    ),
    path("seasons/", season_editing.season_list, name="season_list"),
    path(
        "organisations/<int:organisation_id>/seasons/add/",
        season_editing.season_add,
        name="season_add",
    ),
    path("seasons/<int:season_id>/", seasons.season_detail, name="season_detail"),
    path("seasons/<int:season_id>/edit/", season_editing.season_edit, name="season_edit"),
    path("seasons/<int:season_id>/archive/", season_editing.season_archive, name="season_archive"),
    path("seasons/<int:season_id>/keep/", seasons.season_keep, name="season_keep"),
    path("seasons/<int:season_id>/recompute/", seasons.season_recompute, name="season_recompute"),
    path("seasons/<int:season_id>/calendar/", calendars.season_calendar, name="season_calendar"),
    path(
        "seasons/<int:season_id>/nights.csv", calendars.season_nights_csv, name="season_nights_csv"
    ),
    path("seasons/<int:season_id>/sites/", comparing.season_compare, name="season_compare"),
    path(
        "seasons/<int:season_id>/sites.csv", comparing.season_compare_csv, name="season_compare_csv"
    ),
    path("cameras/", cameras.camera_list, name="camera_list"),
    path(
        "organisations/<int:organisation_id>/cameras/add/",
        camera_editing.camera_add,
        name="camera_add",
    ),
    path("cameras/<int:camera_id>/", cameras.camera_detail, name="camera_detail"),
    path("cameras/<int:camera_id>/edit/", camera_editing.camera_edit, name="camera_edit"),
    path("cameras/<int:camera_id>/calibrate/", cameras.camera_calibrate, name="camera_calibrate"),
    path("cameras/<int:camera_id>/archive/", cameras.camera_archive, name="camera_archive"),
    path("target-lists/", target_lists.target_lists, name="target_lists"),
    path(
        "organisations/<int:organisation_id>/target-lists/add/",
        target_list_editing.target_list_add,
        name="target_list_add",
    ),
    path(
        "organisations/<int:organisation_id>/target-lists/copy/",
        target_lists.target_list_copy,
        name="target_list_copy",
    ),
    path("target-lists/<int:list_id>/", target_lists.target_list, name="target_list"),
    path(
        "target-lists/<int:list_id>/edit/",
        target_list_editing.target_list_edit,
        name="target_list_edit",
    ),
    path(
        "target-lists/<int:list_id>/archive/",
        target_lists.target_list_archive,
        name="target_list_archive",
    ),
    path(
        "target-lists/<int:list_id>/targets.csv",
        target_lists.target_list_csv,
        name="target_list_csv",
    ),
    path(
        "organisations/<int:organisation_id>/targets/",
        target_search.target_search,
        name="target_search",
    ),
    path(
        "organisations/<int:organisation_id>/targets/show/",
        target_show.target_show,
        name="target_show",
    ),
    path(
        "organisations/<int:organisation_id>/targets/add/",
        target_search.target_add,
        name="target_add",
    ),
    # Trips
    path("trips/", trips.trip_list, name="trip_list"),
    path("organisations/<int:organisation_id>/trips/add/", trip_editing.trip_add, name="trip_add"),
    path("trips/<int:trip_id>/", trip_board.trip_detail, name="trip_detail"),
    path("trips/<int:trip_id>/edit/", trip_editing.trip_edit, name="trip_edit"),
    path("trips/<int:trip_id>/step/", trip_steps.trip_step, name="trip_step"),
    path("trips/<int:trip_id>/history/", trip_steps.trip_history, name="trip_history"),
    path("trips/<int:trip_id>/invitation/", trip_steps.trip_invitation, name="trip_invitation"),
    path(
        "trips/<int:trip_id>/invitation/paper/",
        trip_steps.trip_invitation_paper,
        name="trip_invitation_paper",
    ),
    path("trips/<int:trip_id>/instructors/", trip_steps.trip_instructors, name="trip_instructors"),
    path(
        "trips/<int:trip_id>/instructors/<int:instructor_id>/off/",
        trip_steps.trip_instructor_off,
        name="trip_instructor_off",
    ),
    path(
        "trips/<int:trip_id>/nights/add/",
        trip_night_editing.trip_night_add,
        name="trip_night_add",
    ),
    path(
        "trip-nights/<int:night_id>/edit/",
        trip_night_editing.trip_night_edit,
        name="trip_night_edit",
    ),
    path(
        "trip-nights/<int:night_id>/remove/",
        trip_night_editing.trip_night_remove,
        name="trip_night_remove",
    ),
    # Safety of a trip and its nights
    path("trips/<int:trip_id>/cars/", trip_cars.trip_cars, name="trip_cars"),
    path("trips/<int:trip_id>/drivers/", trip_cars.trip_drivers, name="trip_drivers"),
    path("trip-nights/<int:night_id>/", trip_safety.trip_night_safety, name="trip_night_safety"),
    path(
        "trip-nights/<int:night_id>/close/",
        trip_night_deeds.trip_night_close,
        name="trip_night_close",
    ),
    path(
        "trip-nights/<int:night_id>/reopen/",
        trip_night_deeds.trip_night_reopen,
        name="trip_night_reopen",
    ),
    path(
        "trip-nights/<int:night_id>/decide/",
        trip_night_deeds.trip_night_decide,
        name="trip_night_decide",
    ),
    # The brief of a night, in its instructor's hand
    path("trip-nights/<int:night_id>/brief/", brief_hand.trip_night_brief, name="trip_night_brief"),
    path(
        "trip-nights/<int:night_id>/brief.pdf",
        brief_paper.trip_night_brief_pdf,
        name="trip_night_brief_pdf",
    ),
    path(
        "trip-nights/<int:night_id>/brief/publish/",
        brief_deeds.trip_night_brief_publish,
        name="trip_night_brief_publish",
    ),
    path(
        "trip-nights/<int:night_id>/brief/decide/",
        brief_deeds.trip_night_brief_decide,
        name="trip_night_brief_decide",
    ),
    path(
        "trip-nights/<int:night_id>/brief/reached/",
        brief_hand.trip_night_brief_reached,
        name="trip_night_brief_reached",
    ),
    path(
        "trip-nights/<int:night_id>/brief/versions/<int:number>/",
        brief_hand.trip_night_brief_version,
        name="trip_night_brief_version",
    ),
    path(
        "trip-nights/<int:night_id>/brief/<slug:part>/",
        brief_deeds.trip_night_brief_part,
        name="trip_night_brief_part",
    ),
    path("trip-nights/<int:night_id>/log/", trip_night_deeds.trip_night_log, name="trip_night_log"),
    path("sites/<int:site_id>/months/", site_months.site_months, name="site_months"),
    path("jobs/", jobs.job_list, name="job_list"),
    path("jobs/open/", jobs.jobs_open, name="jobs_open"),
    path("jobs/<int:job_id>/", jobs.job_detail, name="job_detail"),
    path("jobs/<int:job_id>/progress/", jobs.job_progress, name="job_progress"),
    path("jobs/<int:job_id>/again/", jobs.job_again, name="job_again"),
    path("jobs/<int:job_id>/stop/", jobs.job_stop, name="job_stop"),
    # People of a trip.
    path("trips/<int:trip_id>/people.csv", enrolments.trip_people_csv, name="trip_people_csv"),
    path(
        "enrolments/<int:enrolment_id>/remove/",
        enrolments.enrolment_remove,
        name="enrolment_remove",
    ),
    path(
        "enrolments/<int:enrolment_id>/no-show/",
        enrolments.enrolment_no_show,
        name="enrolment_no_show",
    ),
    path("enrolments/<int:enrolment_id>/came/", enrolments.enrolment_came, name="enrolment_came"),
    path(
        "enrolments/<int:enrolment_id>/move-up/",
        enrolments.enrolment_move_up,
        name="enrolment_move_up",
    ),
    path(
        "enrolments/<int:enrolment_id>/new-link/",
        enrolments.enrolment_new_link,
        name="enrolment_new_link",
    ),
    path("letters/<int:letter_id>/again/", enrolments.letter_again, name="letter_again"),
    # Joining: by the invitation, by the open page, and behind a person's own link.
    path("j/<str:token>/", joining.invitation, name="invitation"),
    path("join/<uuid:uid>/", joining.join, name="join"),
    path("b/<str:token>/", place.place, name="place"),
    path("b/<str:token>/<date:evening>/", brief_read.brief_read, name="brief_read"),
    path("b/<str:token>/<date:evening>/brief.html", brief_read.brief_file, name="brief_file"),
    path("b/<str:token>/<date:evening>/brief.pdf", brief_read.brief_pdf, name="brief_pdf"),
    path("b/<str:token>/<date:evening>/brief.txt", brief_read.brief_text, name="brief_text"),
    path("b/<str:token>/worker.js", brief_read.place_worker, name="place_worker"),
    path("b/<str:token>/confirm/", place.place_confirm, name="place_confirm"),
    path("b/<str:token>/give-back/", place.place_give_back, name="place_give_back"),
    path("b/<str:token>/new-link/", place.place_new_link, name="place_new_link"),
    path("b/<str:token>/kept-of-me.json", place.place_export, name="place_export"),
    path("b/<str:token>/delete/", place.place_forget, name="place_forget"),
    path("trips/<int:trip_id>/targets/", group_targets.group_targets_page, name="group_targets"),
    path("trip-nights/<int:night_id>/turns/add/", rotas.rota_add, name="rota_add"),
    path("rotas/<int:rota_id>/change/", rotas.rota_change, name="rota_change"),
    path(
        "trip-instructors/<int:instructor_id>/count-link/",
        count_links.count_link_renew,
        name="count_link_renew",
    ),
    # Calendars to subscribe to
    path("trips/<int:trip_id>/calendar/", calendar_feeds.trip_calendar, name="trip_calendar"),
    path("b/<str:token>/calendar/", calendar_feeds.place_calendar, name="place_calendar"),
    path("c/<str:token>.ics", calendar_feeds.calendar_feed, name="calendar_feed"),
    # What the club lends
    path("loan-kit/", loan_kit.loan_kit, name="loan_kit"),
    path(
        "organisations/<int:organisation_id>/loan-kit/add/<str:kind>/",
        loan_kit.loan_item_add,
        name="loan_item_add",
    ),
    path("loan-kit/<int:item_id>/edit/", loan_kit.loan_item_edit, name="loan_item_edit"),
    path("loan-kit/<int:item_id>/archive/", loan_kit.loan_item_archive, name="loan_item_archive"),
    path("loans/<int:loan_id>/grant/", loan_deeds.loan_grant, name="loan_grant"),
    path("loans/<int:loan_id>/refuse/", loan_deeds.loan_refuse, name="loan_refuse"),
    path("enrolments/<int:enrolment_id>/lend/", loan_deeds.enrolment_lend, name="enrolment_lend"),
    path("trips/<int:trip_id>/lend/", loan_deeds.trip_lend, name="trip_lend"),
    path("trips/<int:trip_id>/gear.csv", loan_deeds.trip_gear_csv, name="trip_gear_csv"),
    # The gear of whoever has the link.
    path("b/<str:token>/gear/", my_gear.my_gear, name="my_gear"),
    path("b/<str:token>/gear/add/<str:kind>/", my_gear_deeds.my_gear_add, name="my_gear_add"),
    path("b/<str:token>/gear/small/", my_gear_deeds.my_gear_small, name="my_gear_small"),
    path("b/<str:token>/gear/copy/", my_gear_deeds.my_gear_copy, name="my_gear_copy"),
    path("b/<str:token>/gear/loans/ask/", my_gear_deeds.my_gear_ask, name="my_gear_ask"),
    path(
        "b/<str:token>/gear/loans/<int:number>/withdraw/",
        my_gear_deeds.my_gear_withdraw,
        name="my_gear_withdraw",
    ),
    path("b/<str:token>/gear/<int:number>/", my_gear_deeds.my_gear_change, name="my_gear_change"),
    path(
        "b/<str:token>/gear/<int:number>/remove/",
        my_gear_deeds.my_gear_remove,
        name="my_gear_remove",
    ),
    # Behind an instructor's own link.
    path("h/<str:token>/", head_count.head_count, name="head_count"),
    path("h/<str:token>/ticks/", head_count.head_count_ticks, name="head_count_ticks"),
    path("h/<str:token>/close/", head_count.head_count_close, name="head_count_close"),
    path("h/<str:token>/list/", head_count.head_count_paper, name="head_count_paper"),
    path("h/<str:token>/worker.js", head_count.head_count_worker, name="head_count_worker"),
]
