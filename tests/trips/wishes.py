"""A season's wishes as the rules see them, without a row."""

from dataclasses import dataclass
from datetime import time


@dataclass(frozen=True)
class Wishes:
    dark_level: int = -18
    out_from: time | None = None
    out_until: time = time(2)
    most_hours_out: float = 4.0
    least_hours: float = 2.0
