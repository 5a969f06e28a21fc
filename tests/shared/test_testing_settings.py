"""The tests do not touch the data of whoever runs them."""

from __future__ import annotations

import tempfile
from pathlib import Path

from django.conf import settings

from tests.trips.stage import ROOT


def test_the_data_folder_of_the_tests_is_temporary_and_closed_to_others() -> None:
    assert settings.DATA_FOLDER.parent == Path(tempfile.gettempdir())
    assert settings.DATA_FOLDER != ROOT / ".data"
    assert settings.DATA_FOLDER.stat().st_mode & 0o777 == 0o700


def test_the_messages_of_the_tests_reach_no_worker() -> None:
    assert settings.CELERY_BROKER_URL == "memory://"
