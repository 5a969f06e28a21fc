"""Names as people type them: without case, accents, spaces and signs that nobody agrees on."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from difflib import SequenceMatcher, get_close_matches

MOST_SUGGESTED = 3
# Shares of letters in the same order: below the first nothing is alike, and what is less like than
# the likest by the second is not meant. Common practice, no published source.
LEAST_ALIKE, LESS_ALIKE = 0.6, 0.15
SHORTEST_WORD = 5
SLIP_ALIKE = 0.9


def plain(name: str) -> str:
    """Give what two spellings of a name share: letters and digits, no leading zeros."""
    letters = unicodedata.normalize("NFKD", name).casefold()
    kept = re.sub(r"[^a-z0-9]+", "", letters)
    return re.sub(r"(?<![0-9])0+(?=[0-9])", "", kept)


def nearest(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """Give the known names that are spelt most like this one, the likest first.

    A name's first word stands for it ("rosete": Rosette Nebula); of two with one, the earlier.
    """
    names, typed = list(known), plain(name)
    by_plain = {plain(each): each for each in names}
    for each in names:
        first = plain(each.partition(" ")[0])
        if len(first) >= SHORTEST_WORD:
            by_plain.setdefault(first, each)
    close = get_close_matches(typed, by_plain, n=MOST_SUGGESTED, cutoff=LEAST_ALIKE)
    least = _alike(close[0], typed) - LESS_ALIKE if close else 0.0
    meant = [each for each in close if _alike(each, typed) >= least]
    # A word too many ("polaris star") is no slip in another name.
    meant.sort(key=lambda each: not typed.startswith(each))
    return tuple(dict.fromkeys(by_plain[each] for each in meant))


def is_slip(typed: str, name: str) -> bool:
    """Tell whether one letter or so makes the difference ("polariss": Polaris)."""
    return _alike(plain(name), plain(typed)) >= SLIP_ALIKE


def _alike(known: str, typed: str) -> float:
    return SequenceMatcher(None, known, typed).ratio()
