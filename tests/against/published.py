"""Reads the reference values that stand beside these tests, each with its source."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

VALUES = Path(__file__).parent / "values"


def rows(subject: str) -> list[dict[str, Any]]:
    """Give every row of one file of values: id, inputs, expected, tolerance, source, note."""
    read: list[dict[str, Any]] = json.loads((VALUES / f"{subject}.json").read_text("utf-8"))
    return read


def row(subject: str, identity: str) -> dict[str, Any]:
    return next(row for row in rows(subject) if row["id"] == identity)
