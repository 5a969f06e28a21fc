"""Numbers as people write them in a sentence."""

from __future__ import annotations

import math
from decimal import Decimal

FIGURES = 10
# Beyond these nobody counts the noughts.
LEAST, MOST = 1e-6, 1e15
RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


class Figure(float):
    """A number that stands in a sentence as people write it, and is a number all the same."""

    def __str__(self) -> str:
        return in_figures(self)


def in_figures(number: float) -> str:
    """Give 24, 0.35, −1.1, 1000000, and 3·10⁴⁰ of what is out of all proportion."""
    number = float(number)
    if not math.isfinite(number):
        return repr(number)
    if number == 0:
        return "0"
    if LEAST <= abs(number) < MOST:
        shown = f"{Decimal(f'{number:.{FIGURES}g}'):f}"
        return (shown.rstrip("0").rstrip(".") if "." in shown else shown).replace("-", "−")
    mantissa, power = f"{number:.3e}".split("e")
    factor = mantissa.rstrip("0").rstrip(".").replace("-", "−")
    return f"{factor}·10{str(int(power)).translate(RAISED)}"
