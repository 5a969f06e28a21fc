"""The turns and the group's targets on a trip's board."""

from __future__ import annotations

from typing import Any

from trips.views.board import Board


def group_part(board: Board) -> dict[str, Any]:  # noqa: ARG001  # its helper fills it
    return {}
