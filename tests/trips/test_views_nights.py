"""One night's page: the answer first, times in the site's zone, why something is absent."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, LAST, WHEN, Cast, store_nights
from tests.trips.one_night import (
    Told,
    another_season,
    another_site,
    compute,
    get,
    store,
    teller,
)
from trips.models import Job, Night, Site


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    return teller(coordinator, cast)


# The answer


def test_the_answer_comes_first(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    assert (
        "Dark from 21:00 to 05:00, without the Moon until 02:00: "
        "4.0\u00a0h usable while you are out until 02:00." in told()
    )


def test_without_a_season_the_moonless_hours_are_the_answer(cast: Cast, told: Told) -> None:
    cast.season.sites.clear()
    store(cast.site, 5)
    text = told()
    assert "without the Moon until 02:00: 5.0\u00a0h of moonless dark." in text
    assert "usable while you are out" not in text
    assert "No season of this site holds this night." in text


def test_a_night_that_is_too_short_says_so_and_a_candidate_does_not(cast: Cast, told: Told) -> None:
    store(cast.site, 1)
    store(cast.site, 5, FIRST + timedelta(days=1))
    assert "fewer than the 2.0\u00a0h wanted" in told()
    assert "fewer than" not in told(FIRST + timedelta(days=1))


def test_what_staying_longer_would_add_is_said_where_it_helps(cast: Cast, told: Told) -> None:
    row = store(cast.site, 1)
    dusk = row.dark_18[0][0]
    row.moonless_18 = [[dusk + 5 * 3600, dusk + 8 * 3600]]  # 02:00 to 05:00
    row.moonless_hours_18 = 3.0
    row.save()
    assert "Staying until 05:00 would add 3.0\u00a0h." in told()


def test_what_staying_longer_would_add_is_not_said_of_a_candidate(cast: Cast, told: Told) -> None:
    store(cast.site, 8)
    assert "Staying until" not in told()


def test_the_first_season_by_date_judges_and_the_others_are_named(cast: Cast, told: Told) -> None:
    another_season(cast, "Late winter", out_until=time(23))
    store(cast.site, 5)
    text = told()
    assert "2.0\u00a0h usable while you are out until 23:00" in text
    assert "Judged for Late winter." in text
    assert f'?season={cast.season.pk}">Spring 2027</a>' in text


def test_a_season_can_be_chosen_and_the_neighbours_keep_it(cast: Cast, told: Told) -> None:
    another_season(cast, "Late winter", out_until=time(23))
    store(cast.site, 5)
    text = told(season=cast.season.pk)
    assert "while you are out until 02:00" in text
    assert f'/nights/2027-03-02/?season={cast.season.pk}"' in text


@pytest.mark.parametrize("asked", ["", "x", "0", "999999", "-1", "१"])
def test_a_season_that_is_none_of_the_site_s_is_not_chosen(
    asked: str, cast: Cast, told: Told
) -> None:
    store(cast.site, 5)
    assert "Judged for Spring 2027." in told(season=asked)


def test_a_season_that_does_not_hold_the_night_does_not_judge_it(cast: Cast, told: Told) -> None:
    night = LAST + timedelta(days=1)
    store(cast.site, 5, night)
    assert "Judged for" not in told(night)


# Times


def test_times_are_the_site_s_own_and_the_zone_is_named_once(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    text = told()
    assert text.count("Times are those of Europe/Madrid, UTC+1") == 1
    assert '<time datetime="2027-03-01T19:00:00+01:00">19:00</time>' in text  # sunset 18:00 UTC


def test_utc_is_there_too(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    text = told()
    assert '<time datetime="2027-03-01T18:00:00+00:00">18:00</time>' in text
    assert "The same in UTC" in text


def test_times_stand_under_the_dates_they_fall_on(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    text = told()
    evening, morning = text.index(">Monday 1 March</th>"), text.index(">Tuesday 2 March</th>")
    assert evening < text.index("Sunset</th>") < morning < text.index("Sunrise</th>")


def test_both_offsets_are_said_where_clocks_change(cast: Cast, told: Told) -> None:
    compute(cast.site, date(2027, 3, 27))
    text = told(date(2027, 3, 27))
    assert "UTC+1 in the evening, UTC+2 in the morning" in text
    assert "Clocks go forward on 28 March." in text
    assert "clocks go forward</text>" in text


def test_clocks_that_do_not_change_are_not_mentioned(cast: Cast, told: Told) -> None:
    compute(cast.site, date(2027, 3, 26))
    assert "locks go" not in told(date(2027, 3, 26))


def test_the_usable_hours_stand_among_the_times(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    text = told()
    assert text.index("Usable from here") < text.index("End of the usable hours")
    assert "the most that counts in a night" in text


def test_hours_that_are_not_usable_do_not(cast: Cast, told: Told) -> None:
    store(cast.site, 0)
    assert "Usable from here" not in told()


def test_the_sun_sets_in_a_direction(cast: Cast, told: Told) -> None:
    compute(cast.site, FIRST)
    assert '<td class="soft">west, 261°</td>' in told()


def test_a_far_night_states_its_uncertainty_and_a_near_one_does_not(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    store(cast.site, 5, date(2036, 1, 1))
    assert "about 5 seconds" in told(date(2036, 1, 1))
    assert "about 5 seconds" not in told()


# The Moon, the dark, what happens


def test_the_moon_is_put_in_words(cast: Cast, told: Told) -> None:
    compute(cast.site, FIRST)
    text = told()
    assert "Waning, 33 % lit. Rises 04:21 in the south-east (127°)" in text
    assert "\u00a0h of the dark." in text


def test_a_night_without_moonless_hours_says_why(cast: Cast, told: Told) -> None:
    store(cast.site, 0)
    assert "the Moon is up while it is dark" in told()


def test_a_night_with_moonless_hours_does_not(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    assert "the Moon is up while it is dark" not in told()


def test_a_sun_that_does_not_set_is_said_with_its_lowest(cast: Cast, told: Told) -> None:
    far_north = another_site(cast, "Birch Lake", latitude=69.1, longitude=18.6, zone="Europe/Oslo")
    another_season(cast, "June", first_night=date(2027, 6, 1), last_night=date(2027, 6, 30))
    compute(far_north, date(2027, 6, 21))
    text = told(date(2027, 6, 21), far_north)
    assert "No dark: the Sun does not set, lowest 3° up at 00:47." in text
    assert "Solstice 16:11." in text
    assert "Sunset and sunrise" in text


def test_where_it_is_not_dark_the_next_level_is_said(cast: Cast, told: Told) -> None:
    north = another_site(cast, "Fen", latitude=57.0, longitude=-4.0, zone="Europe/London")
    compute(north, date(2027, 5, 20))
    assert "The Sun is 12° down or lower from 00:16 to 02:09, 1." in told(date(2027, 5, 20), north)


def test_the_second_computation_is_named_where_it_was_asked(cast: Cast, told: Told) -> None:
    compute(cast.site, FIRST)
    assert "agree with a second computation within" in told()


def test_a_stale_night_is_said_and_not_held_against_the_present_site(
    cast: Cast, told: Told
) -> None:
    Job.objects.all().delete()
    compute(cast.site, FIRST)
    Night.objects.update(fingerprint="of another engine")
    text = told()
    assert "These times are out of date" in text
    assert "Compute Spring 2027" in text
    assert "second computation" not in text


def test_a_fresh_night_is_not_called_stale(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    text = told()
    assert "out of date" not in text
    assert "Compute Spring 2027" not in text


# What is not there


def test_a_night_that_is_not_computed_can_be_asked_for(cast: Cast, told: Told) -> None:
    Job.objects.all().delete()
    text = told()
    assert "This night is not computed for this site." in text
    assert reverse("season_recompute", args=[cast.season.pk]) in text


def test_a_night_outside_every_season_leads_to_one(cast: Cast, told: Told) -> None:
    text = told(date(2027, 8, 1))
    assert reverse("season_edit", args=[cast.season.pk]) in text
    assert reverse("season_add", args=[cast.club.pk]) in text


def test_a_night_of_a_site_without_a_season_leads_to_a_new_one(cast: Cast, told: Told) -> None:
    cast.season.sites.clear()
    assert reverse("season_add", args=[cast.club.pk]) in told(date(2027, 8, 1))


@pytest.mark.parametrize(
    ("state", "said"),
    [
        ("queued", "It is being computed now."),
        ("running", "It is being computed now."),
        ("failed", "The computation failed."),
        ("stopped", "The computation was stopped."),
    ],
)
def test_what_its_job_is_doing_is_said(state: str, said: str, cast: Cast, told: Told) -> None:
    Job.objects.update(state=state)
    text = told()
    assert said in text
    assert reverse("job_detail", args=[cast.job.pk]) in text


def test_an_archived_site_is_said_and_not_computed(cast: Cast, told: Told) -> None:
    Job.objects.all().delete()
    Site.objects.update(archived_at=WHEN)
    text = told()
    assert "This site was archived on 1 February 2027." in text
    assert "Compute Spring 2027" not in text


# Neighbours and edges


def test_the_neighbours_are_linked(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    response = get(coordinator, cast.site)
    assert (response.context["previous"], response.context["next"]) == (
        date(2027, 2, 28),
        date(2027, 3, 2),
    )
    text = response.content.decode()
    assert 'rel="prev"' in text
    assert 'rel="next"' in text


@pytest.mark.parametrize(
    ("night", "previous", "following"),
    [
        (date(1972, 1, 1), None, date(1972, 1, 2)),
        (date(2050, 12, 31), date(2050, 12, 30), None),
    ],
)
def test_the_first_and_the_last_night_have_one_neighbour(
    *, night: date, previous: date, following: date, cast: Cast, coordinator: Client
) -> None:
    compute(cast.site, night)
    response = get(coordinator, cast.site, night)
    assert (response.context["previous"], response.context["next"]) == (previous, following)
    assert "Times are those of" in response.content.decode()


@pytest.mark.parametrize(
    "night", ["2027-02-30", "2027-13-01", "0000-00-00", "1971-12-31", "2051-01-01", "9999-12-31"]
)
def test_what_is_no_night_is_no_page(night: str, cast: Cast, coordinator: Client) -> None:
    assert coordinator.get(f"/sites/{cast.site.pk}/nights/{night}/").status_code == 404


def test_a_name_in_another_script_is_shown_as_it_is(cast: Cast, told: Told) -> None:
    Site.objects.update(name="Σκοτεινός <λόφος>")
    store(cast.site, 5)
    text = told()
    assert "Σκοτεινός &lt;λόφος&gt;" in text
    assert "<λόφος>" not in text
