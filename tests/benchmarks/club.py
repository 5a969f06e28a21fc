"""A club in a database file of its own, for the benchmarks that need rows."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
from pathlib import Path

from tests.trips.tables import lay_tables


def open_club() -> None:
    """Start Django on an empty database in a folder that goes away with the process."""
    folder = tempfile.mkdtemp(prefix="fieldnights-benchmark-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    os.environ["FIELDNIGHTS_DATA"] = folder
    os.environ["DJANGO_SETTINGS_MODULE"] = "shared.settings.demo"

    static = Path(folder) / "static"
    static.mkdir(mode=0o700)
    lay_tables(Path(folder))

    import django  # noqa: PLC0415  # the folder must be named before the settings are read

    django.setup()
