"""Empty tables of today for tests with real processes: made once a machine, then copied.

Migrating takes three seconds, twenty times a run. That migrations make them from nothing is tried
by pytest-django, by the demo and on PostgreSQL.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
NAME = "fieldnights.sqlite3"


def lay_tables(folder: Path) -> None:
    """Put empty tables into a data folder that has none."""
    kept = Path(tempfile.gettempdir(), f"fieldnights-tables-{os.getuid()}-{_edition()}.sqlite3")
    if not kept.exists():
        _make(kept)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    shutil.copyfile(kept, folder / NAME)


def _edition() -> str:
    """Tell today's tables from those of another day: by what migrations and settings say."""
    told = [ROOT / ".ci/constraints.txt", ROOT / "shared/settings/base.py"]
    told += sorted((ROOT / "trips/migrations").glob("*.py"))
    return hashlib.sha256(b"".join(path.read_bytes() for path in told)).hexdigest()[:16]


def _make(kept: Path) -> None:
    """Make them in a folder of their own, then move them into place whole."""
    with tempfile.TemporaryDirectory(prefix="fieldnights-tables-") as folder:
        environment = {k: v for k, v in os.environ.items() if k != "DATABASE_URL"}
        environment |= {"FIELDNIGHTS_DATA": folder, "DJANGO_SETTINGS_MODULE": "shared.settings"}
        migrate = [sys.executable, "manage.py", "migrate", "--verbosity", "0"]
        subprocess.run(migrate, cwd=ROOT, env=environment, check=True)
        whole = kept.with_suffix(f".{os.getpid()}")
        shutil.copyfile(Path(folder, NAME), whole)
        whole.replace(kept)
