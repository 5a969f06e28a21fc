"""What is refused: one sentence for the person who must act, with what would be right."""

from __future__ import annotations


class RefusedError(Exception):
    """`sentence` is shown as it is; nothing was changed."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


class TripRefusedError(RefusedError):
    """A trip, one of its nights or who leads it cannot be as asked."""
