"""Four send the same twenty letters at the same instant: each goes once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.trips.postmen import LETTERS, send_all
from tests.trips.services_at_hand import postgresql_url
from tests.trips.stage import Stage


def test_each_letter_goes_once_on_sqlite(tmp_path: Path) -> None:
    _each_goes_once(Stage(tmp_path, {}))


@pytest.mark.postgresql
def test_each_letter_goes_once_on_postgresql(tmp_path: Path) -> None:
    with postgresql_url() as url:
        _each_goes_once(Stage(tmp_path, {"DATABASE_URL": url}))


def _each_goes_once(stage: Stage) -> None:
    assert send_all(stage) == {f"n{number}@meadow.example": 1 for number in range(LETTERS)}
