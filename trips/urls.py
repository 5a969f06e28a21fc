"""The addresses of the pages. Objects are named by number; who may see them is `for_member`."""

from __future__ import annotations

from datetime import date

from django.urls import path, register_converter

from trips.views import account, comparing, home, jobs, look, nights, seasons, sites


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
    path("sites/", sites.site_list, name="site_list"),
    path("organisations/<int:organisation_id>/sites/add/", sites.site_add, name="site_add"),
    path("sites/<int:site_id>/", sites.site_detail, name="site_detail"),
    path("sites/<int:site_id>/edit/", sites.site_edit, name="site_edit"),
    path("sites/<int:site_id>/archive/", sites.site_archive, name="site_archive"),
    path("sites/<int:site_id>/nights/<date:night>/", nights.night_detail, name="night_detail"),
    path("seasons/", seasons.season_list, name="season_list"),
    path("organisations/<int:organisation_id>/seasons/add/", seasons.season_add, name="season_add"),
    path("seasons/<int:season_id>/", seasons.season_detail, name="season_detail"),
    path("seasons/<int:season_id>/edit/", seasons.season_edit, name="season_edit"),
    path("seasons/<int:season_id>/recompute/", seasons.season_recompute, name="season_recompute"),
    path("seasons/<int:season_id>/sites/", comparing.season_compare, name="season_compare"),
    path(
        "seasons/<int:season_id>/sites.csv", comparing.season_compare_csv, name="season_compare_csv"
    ),
    path("jobs/<int:job_id>/", jobs.job_detail, name="job_detail"),
    path("jobs/<int:job_id>/stop/", jobs.job_stop, name="job_stop"),
]
