"""Workers that find the same plans missing at the same instant compute the night once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.trips.brief_crowd import READERS
from tests.trips.services_at_hand import postgresql_url
from tests.trips.stage import Stage

WORKERS = 4


def test_four_at_once_make_each_plan_once_on_sqlite(tmp_path: Path) -> None:
    _once(Stage(tmp_path, {}))


@pytest.mark.postgresql
def test_four_at_once_make_each_plan_once_on_postgresql(tmp_path: Path) -> None:
    with postgresql_url() as url:
        _once(Stage(tmp_path, {"DATABASE_URL": url}))


def _once(stage: Stage) -> None:
    said = stage.run("-m", "tests.trips.brief_crowd", "plan", str(WORKERS)).split()
    assert said == ["1", str(READERS), str(READERS)]
