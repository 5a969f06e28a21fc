"""Two that stand close together: Moon, planets and the bright stars that they pass."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial

from sky.close_pairs import MEMBERS, PAIRS, Pair, limit_of, point_of, spans_below
from sky.errors import SkyError
from sky.spans import Spans
from sky.targets.matching import nearest, plain
from sky.targets.target import Kind, Listing, Target

NAMES = {member: member.capitalize() for member in MEMBERS} | {"alcyone": "the Pleiades"}
# A person may ask for the cluster or for its brightest star.
ALSO = {"alcyone": ("Alcyone",)}


def target(rest: str) -> Target:
    """Give a pair ("venus+jupiter", either first) while it is closer than the usual limit.

    Both must be clear of the skyline; there is no other least altitude. Errors: `target_unknown`.
    """
    pair = _pair(rest)
    limit = limit_of(pair)
    return Target(
        f"pair:{key_of(pair)}",
        name_of(pair),
        (point_of(pair[0]), point_of(pair[1])),
        "any",
        None,
        active=partial(_close, pair, limit),
    )


def name_of(pair: Pair) -> str:
    return f"{NAMES[pair[0]]} and {NAMES[pair[1]]}"


def _pair(rest: str) -> Pair:
    asked = set(rest.split("+"))
    for pair in PAIRS:
        if asked == set(pair):
            return pair
    known = {key_of(pair): pair for pair in PAIRS}
    close = tuple(name_of(known[key]) for key in nearest(rest, known))
    raise SkyError("target_unknown", name=rest, nearest=close)


def key_of(pair: Pair) -> str:
    return "+".join(pair)


def _close(pair: Pair, limit_degrees: float, first: date, last: date) -> Spans:
    return spans_below(pair, first - timedelta(days=1), last + timedelta(days=2), limit_degrees)


def search(text: str) -> list[Listing]:
    """Offer the pairs in which every word that was typed is found."""
    words = [plain(word) for word in text.replace("+", " ").split() if word.casefold() != "and"]
    return [
        listing(pair) for pair in PAIRS if words and all(word in _spoken(pair) for word in words)
    ]


def _spoken(pair: Pair) -> str:
    return plain(" ".join((name_of(pair), *pair)))


def offered() -> list[Listing]:
    return [listing(pair) for pair in PAIRS]


def listing(pair: Pair) -> Listing:
    about = f"closer than {limit_of(pair):g}°"
    also = tuple(name for member in pair for name in ALSO.get(member, ()))
    return Listing(f"pair:{key_of(pair)}", name_of(pair), about, other_names=also)


KIND = Kind("pair", target, search, offered)
