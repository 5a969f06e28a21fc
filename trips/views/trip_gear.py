"""The gear of a trip's board: what people bring, what is short, what can be lent."""

from __future__ import annotations

from typing import Any

from trips.views.board import Board


def gear_part(board: Board) -> dict[str, Any]:  # noqa: ARG001  # its helper fills it
    return {}
