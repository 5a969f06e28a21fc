"""The nights of a trip's board: when and where people meet, and when each is decided."""

from __future__ import annotations

from typing import Any

from trips.views.board import Board


def nights_part(board: Board) -> dict[str, Any]:
    return {"nights": board.nights}
