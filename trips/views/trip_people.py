"""The people of a trip's board: who has a place, who waits."""

from __future__ import annotations

from typing import Any

from trips.views.board import Board


def people_part(board: Board) -> dict[str, Any]:  # noqa: ARG001  # its helper fills it
    return {}
