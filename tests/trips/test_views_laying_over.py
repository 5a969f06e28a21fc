"""Two sites laid over each other on the compare page, and what only one of them offers."""

from __future__ import annotations

from datetime import date

import pytest
from django.test import Client

from tests.conftest import FIRST, Cast, store_nights
from tests.trips.compare_pages import add_site, page, text
from trips.models import Season


def test_hours_that_no_other_site_offers_are_said_of_each(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    add_site(cast, "Wether Fell", hours=1)
    shown = text(coordinator, cast)
    # Of every ninth night Broom Hill has no moonless hour.
    assert "Without Wether Fell you would lose 3.0 h of nights on which no other" in shown
    assert "Without Broom Hill you would lose no night" in shown
    assert "3.0 h only here" in shown


def test_nothing_is_said_to_be_only_here_while_nights_are_missing(
    cast: Cast, coordinator: Client
) -> None:
    add_site(cast, "Wether Fell")
    add_site(cast, "Zither Fell")
    shown = text(coordinator, cast)
    assert "you would lose" not in shown
    assert "only here" not in shown


def test_the_best_site_and_the_one_that_adds_most_are_laid_over(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    unlike = add_site(cast, "Alder Fell", hours=1)
    laid = page(coordinator, cast).context["laid"]
    assert (laid.first, laid.second) == (cast.site, unlike)
    # The 94 and 31 hours of the table: an hour of each night is at both but on the three nights
    # on which Broom Hill has none.
    shown = text(coordinator, cast)
    assert "28.0 h at both at the same time, 66.0 h only at Broom Hill" in shown
    assert "makes its 94.0 h, and 3.0 h only at Alder Fell, which makes its 31.0 h." in shown
    assert "on the clock of Broom Hill, Europe/Madrid," in shown


def test_other_sites_can_be_laid_over_and_the_order_is_kept(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    one, other = add_site(cast, "Alder Fell", hours=1), add_site(cast, "Zither Fell")
    query = f"?sort=site&over={one.pk}&with={other.pk}"
    laid = page(coordinator, cast, query).context["laid"]
    assert (laid.first, laid.second, laid.mistakes) == (one, other, [])
    shown = text(coordinator, cast, query)
    assert '<input type="hidden" name="sort" value="site">' in shown
    assert f"over={one.pk}&amp;with={other.pk}" in shown


@pytest.mark.parametrize("asked", ["0", "here", "1e3", "far", "³"])
def test_a_nonsense_site_is_said_and_the_usual_one_laid_over(
    asked: str, cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    add_site(cast, "Alder Fell", hours=1)
    # A site of another club is no better than nonsense.
    asked = str(cast.far_site.pk) if asked == "far" else asked
    shown = text(coordinator, cast, f"?over={asked}")
    assert f"“{asked}” is not a site of this season: Broom Hill is shown." in shown
    assert "Salt Quay" not in shown


def test_a_site_is_not_laid_over_itself(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    add_site(cast, "Alder Fell", hours=1)
    shown = text(coordinator, cast, f"?over={cast.site.pk}&with={cast.site.pk}")
    assert "Broom Hill cannot be laid over itself: Alder Fell is laid over it." in shown


def test_a_site_without_nights_is_not_laid_over(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    add_site(cast, "Alder Fell", hours=1)
    empty = add_site(cast, "Empty Fell", hours=None)
    shown = text(coordinator, cast, f"?with={empty.pk}")
    assert "No night of Empty Fell is computed: Alder Fell is shown." in shown


def test_a_picture_of_a_long_season_shows_its_first_year(cast: Cast, coordinator: Client) -> None:
    Season.objects.filter(pk=cast.season.pk).update(last_night=date(2030, 2, 28))
    store_nights(cast.site, last=date(2030, 2, 28))
    store_nights(add_site(cast, "Twin Hill", hours=None), last=date(2030, 2, 28))
    laid = page(coordinator, cast).context["laid"]
    assert (laid.first_night, laid.last_night) == (FIRST, date(2028, 2, 29))
    assert laid.is_cut
    assert "Nights of 1 March 2027 to 29 February 2028." in text(coordinator, cast)
