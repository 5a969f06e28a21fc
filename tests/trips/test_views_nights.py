"""One night: times in the site's zone, and why something is absent."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, Cast, invented_night, store_nights
from trips.almanac.fingerprint import site_fingerprint
from trips.models import Night, Site


def page(client: Client, cast: Cast, night: date = FIRST) -> Any:
    return client.get(reverse("night_detail", args=[cast.site.pk, night]))


def store(site: Site, moonless_hours: float, **changed: Any) -> Night:
    night = invented_night(
        site, FIRST, moonless_hours=moonless_hours, fingerprint=site_fingerprint(site)
    )
    for name, value in changed.items():
        setattr(night, name, value)
    night.save()
    return night


def test_times_are_the_site_s_own_and_the_zone_is_named(cast: Cast, coordinator: Client) -> None:
    store(cast.site, 5)
    text = page(coordinator, cast).content.decode()
    assert "all times in Europe/Madrid" in text
    assert '<time datetime="2027-03-01T19:00:00+01:00">19:00</time>' in text  # sunset 18:00 UTC
    assert "21:00–02:00" in text


def test_utc_is_there_too(cast: Cast, coordinator: Client) -> None:
    store(cast.site, 5)
    text = page(coordinator, cast).content.decode()
    assert '<time datetime="2027-03-01T18:00:00+00:00">18:00</time>' in text


def test_a_time_after_midnight_carries_its_date(cast: Cast, coordinator: Client) -> None:
    store(cast.site, 5)
    text = page(coordinator, cast).content.decode()
    assert '06:30</time> <span class="soft">(2 March)</span>' in text
    assert '19:00</time> <span class="soft">' not in text


def test_the_moon_is_put_in_words(cast: Cast, coordinator: Client) -> None:
    store(cast.site, 5)
    assert "The Moon is waning, 23 % lit." in page(coordinator, cast).content.decode()


def test_a_night_without_moonless_hours_says_why(cast: Cast, coordinator: Client) -> None:
    store(cast.site, 0)
    assert "the Moon is up while it is dark" in page(coordinator, cast).content.decode()


def test_a_night_with_moonless_hours_does_not(cast: Cast, coordinator: Client) -> None:
    store(cast.site, 5)
    assert "the Moon is up while it is dark" not in page(coordinator, cast).content.decode()


def test_a_sun_that_does_not_set_is_said(cast: Cast, coordinator: Client) -> None:
    absent = {"sunset": "sun_never_sets", "sunrise": "sun_never_sets", "dark": "never_dark"}
    store(cast.site, 0, sunset=None, sunrise=None, dark_18=[], dark_hours_18=0, absent=absent)
    text = page(coordinator, cast).content.decode()
    assert "the Sun does not set" in text
    assert "it does not get dark" in text


def test_a_stale_night_is_said(cast: Cast, coordinator: Client) -> None:
    store(cast.site, 5, fingerprint="of another engine")
    assert "These times are out of date" in page(coordinator, cast).content.decode()


def test_a_fresh_night_is_not_called_stale(cast: Cast, coordinator: Client) -> None:
    store(cast.site, 5)
    assert "out of date" not in page(coordinator, cast).content.decode()


def test_a_night_that_is_not_stored_says_what_to_do(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast, date(2028, 1, 1)).content.decode()
    assert "This night is not computed for this site." in text


def test_the_neighbours_are_linked(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    context = page(coordinator, cast).context
    assert (context["previous"], context["next"]) == (date(2027, 2, 28), date(2027, 3, 2))


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
    context = page(coordinator, cast, night).context
    assert (context["previous"], context["next"]) == (previous, following)


@pytest.mark.parametrize(
    "night", ["2027-02-30", "2027-13-01", "0000-00-00", "1971-12-31", "2051-01-01", "9999-12-31"]
)
def test_what_is_no_night_is_no_page(night: str, cast: Cast, coordinator: Client) -> None:
    assert coordinator.get(f"/sites/{cast.site.pk}/nights/{night}/").status_code == 404


def test_a_far_night_states_its_uncertainty(cast: Cast, coordinator: Client) -> None:
    night = invented_night(
        cast.site, date(2036, 1, 1), moonless_hours=5, fingerprint=site_fingerprint(cast.site)
    )
    night.save()
    assert "about 5 seconds" in page(coordinator, cast, night.date).content.decode()
