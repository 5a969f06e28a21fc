"""Names as people type them: without case, accents, spaces and signs that nobody agrees on."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from difflib import get_close_matches

MOST_SUGGESTED = 3


def plain(name: str) -> str:
    """Give what two spellings of a name share: letters and digits, no leading zeros."""
    letters = unicodedata.normalize("NFKD", name).casefold()
    kept = re.sub(r"[^a-z0-9]+", "", letters)
    return re.sub(r"(?<![0-9])0+(?=[0-9])", "", kept)


def nearest(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """Give the known names that are spelt most like this one, the likest first."""
    by_plain = {plain(each): each for each in known}
    close = get_close_matches(plain(name), by_plain, n=MOST_SUGGESTED, cutoff=0.6)
    return tuple(by_plain[each] for each in close)
