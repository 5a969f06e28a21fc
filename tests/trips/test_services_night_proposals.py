"""When people meet on a new night: what is wanted decides, as stored for the site."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

import pytest

from tests.conftest import FIRST, Cast, store_nights
from tests.trips.stored_windows import store_windows
from trips.almanac.local_time import local
from trips.planning.nights import Wishes
from trips.services.night_proposals import propose_hours

DAY = timedelta(days=1)
LATE = time(4)


def meet(cast: Cast, wishes: Wishes) -> datetime:
    return propose_hours(cast.site, [FIRST], wishes)[FIRST].meeting_at


def test_the_first_wanted_span_decides_and_not_the_dark(cast: Cast) -> None:
    """Invented night: sunset 18:00 UTC, dark from 20:00; the target comes clear at 23:30."""
    store_nights(cast.site, FIRST, FIRST)
    entry = cast.target_list.entries.order_by("order")[0]
    store_windows(entry, cast.site, {FIRST: (3.5, 6)}, spot=cast.spot)
    wanted = Wishes(out_until=LATE, target_list=cast.target_list.pk)
    assert meet(cast, wanted) == datetime(2027, 3, 1, 22, 45, tzinfo=UTC)
    assert meet(cast, Wishes(out_until=LATE)) == datetime(2027, 3, 1, 17, tzinfo=UTC)


def test_a_span_that_starts_after_people_go_home_is_not_waited_for(cast: Cast) -> None:
    store_nights(cast.site, FIRST, FIRST)
    entry = cast.target_list.entries.order_by("order")[0]
    store_windows(entry, cast.site, {FIRST: (7.5, 8)}, spot=cast.spot)
    wanted = Wishes(out_until=time(2), target_list=cast.target_list.pk)
    assert meet(cast, wanted) == datetime(2027, 3, 1, 17, tzinfo=UTC)


@pytest.mark.parametrize("is_stored", [True, False])
def test_a_night_that_nobody_computed_is_computed(cast: Cast, is_stored: bool) -> None:
    """An hour before sunset, 18:56 there on 2 March; `tests/against` holds sunsets to almanacs."""
    if is_stored:
        store_nights(cast.site, FIRST, FIRST)
    hours = propose_hours(cast.site, [FIRST, FIRST + DAY], Wishes())
    there = local(hours[FIRST + DAY].meeting_at, cast.site.zone)
    assert there.time() == time(17, 56)
    assert (hours[FIRST].meeting_at.hour == 17) == is_stored
