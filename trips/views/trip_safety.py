"""The safety part of a trip's board: cautions, warnings, tides, call-outs."""

from __future__ import annotations

from typing import Any

from trips.views.board import Board


def safety_part(board: Board) -> dict[str, Any]:  # noqa: ARG001  # its helper fills it
    return {}
