"""What a brief says of its night: words ready to read, and the instants by which a phone finds

its place in the night. Plain values only: a version is kept as JSON, and every format (page, text,
paper, mail) is made from the same. Instants are whole Unix seconds, clocks those of the site.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field
from typing import Any

Paragraphs = tuple[str, ...]
# What a kept version is, once it is JSON.
Kept = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Answer:
    """One glance: the answer, and a smaller line under it."""

    words: str
    more: str = ""


@dataclass(frozen=True, slots=True)
class Glance:
    """`state` is the night's decision: "", go, second, no_go. `leave_by` empty: drive not known."""

    state: str
    decision: Paragraphs
    meet_at: int
    meet_clock: str
    meet_point: str
    leave_by: str
    dark: Answer
    moon: Answer
    coldest: Answer


@dataclass(frozen=True, slots=True)
class First:
    """The first frame to try. The three settings stand large, each with its name under it."""

    title: str
    shutter: str
    aperture: str
    iso: str
    how: Paragraphs = ()


@dataclass(frozen=True, slots=True)
class Target:
    """A target in the order of the night. `direction` is in words, `degrees` its figures with
    their minute; `lens` which lens it wants; `settings` empty where no rule gives an exposure;
    `tracked` that line of `how` which is for a turn at the tracker; `picture` an SVG.
    """

    number: int
    name: str
    start: int
    end: int
    best: int
    window: str
    direction: str
    degrees: str
    lens: str
    settings: str
    how: Paragraphs = ()
    tracked: str = ""
    picture: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the night. `until` None where it is a moment; `number` that of its target; `kind`:
    meet, count, sky, focus, foreground, target, turn or leave."""

    at: int
    until: int | None
    clock: str
    words: str
    kind: str
    number: int = 0


@dataclass(frozen=True, slots=True)
class Sky:
    """A picture of the whole sky, how it is held, and ways to find the target from bright stars."""

    at: int
    clock: str
    picture: str
    hold: str
    pointers: Paragraphs = ()


@dataclass(frozen=True, slots=True)
class Call:
    """Whom a phone can ring: of those who lead."""

    name: str
    phone: str


@dataclass(frozen=True, slots=True)
class Help:
    """`number` empty: nobody has confirmed it. `position` is read out; `geo` an address of it."""

    number: str
    signal: str
    position: Paragraphs
    geo: str
    how: Paragraphs = ()
    calls: tuple[Call, ...] = ()


@dataclass(frozen=True, slots=True)
class Written:
    """An instructor's words in a part."""

    text: str
    is_instead: bool


@dataclass(frozen=True, slots=True)
class Facts:
    """A night's brief. `texts` has the paragraphs of each part that is nothing but these; a part
    that has nothing to say gives its reason there. `written` is by part. `home_at` is when those
    who drive are home again.
    """

    trip: str
    club: str
    evening: str
    site: str
    spot: str
    zone: str
    zone_words: str
    ends_at: int
    glance: Glance
    dangers: Paragraphs
    first: First | None
    targets: tuple[Target, ...]
    not_tonight: Paragraphs
    rows: tuple[Row, ...]
    strip: str
    skies: tuple[Sky, ...]
    help: Help
    texts: dict[str, Paragraphs]
    rules: str
    reader: str = ""
    sunset_at: int | None = None
    # Where people meet, as maps on a phone open it; "" where nobody typed it or it is kept back.
    meet_geo: str = ""
    home_at: int | None = None
    written: dict[str, Written] = field(default_factory=dict)


def kept_of(facts: Facts) -> Kept:
    """Give a brief as JSON keeps it: what comes back from a row is equal to it."""
    kept: Kept = json.loads(json.dumps(asdict(facts)))
    return kept
