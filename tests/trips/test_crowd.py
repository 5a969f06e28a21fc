"""Fifty people press for the last place at the same instant: one has it, the rest wait in order.

As many who lead then lend the last tracker: one person has it, on all the nights.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.trips.crowd import CROWD, press_all
from tests.trips.services_at_hand import postgresql_url
from tests.trips.stage import Stage


def test_the_last_place_goes_to_one_of_fifty_on_sqlite(tmp_path: Path) -> None:
    _one_has_it(Stage(tmp_path, {}))


@pytest.mark.postgresql
def test_the_last_place_goes_to_one_of_fifty_on_postgresql(tmp_path: Path) -> None:
    with postgresql_url() as url:
        _one_has_it(Stage(tmp_path, {"DATABASE_URL": url}))


def _one_has_it(stage: Stage) -> None:
    told = press_all(stage)
    assert told["places"] == [1]
    assert told["queue"] == list(range(1, CROWD))
    assert told["twins"] == ["asked"]  # asked for on fifty phones at once
    assert told["status"] == ["full"]
    assert len(told["borrowers"]) == 1
    assert told["evenings"] == ["2027-06-05", "2027-06-06"]
    assert told["promises"] == ["loan_granted"] * 2
