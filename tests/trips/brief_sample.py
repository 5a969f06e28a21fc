"""An invented night's brief, for tests of what is made from one: pages, paper, text, mail."""

from __future__ import annotations

from trips.planning.brief.facts import (
    Answer,
    Call,
    Facts,
    First,
    Glance,
    Help,
    Row,
    Sky,
    Target,
)

# 5 June 2027, 18:00 UTC: 20:00 in Madrid.
EVENING = 1_812_218_400
HOUR = 3600
PICTURE = '<svg viewBox="0 0 80 40" role="img"><title>{0}</title><path d="M0 30h80"/></svg>'


def _target(number: int, name: str, start: int, direction: str, degrees: str) -> Target:
    return Target(
        number=number,
        name=name,
        start=start,
        end=start + HOUR,
        best=start + HOUR // 2,
        window=f"{_clock(start)}–{_clock(start + HOUR)}",
        direction=direction,
        degrees=degrees,
        lens="24 mm on full frame, or wider",
        settings="15 s, f/2.8, ISO 3200",
        how=("Upright, the hut near the right edge.", "Six frames alike, to stack."),
        picture=PICTURE.format(f"Where {name} stands"),
    )


def _clock(at: int) -> str:
    hours, seconds = divmod(at - EVENING, HOUR)
    return f"{(20 + hours) % 24:02d}:{seconds // 60:02d}"


MEET, DARK, LEAVE = EVENING + HOUR // 2, EVENING + 4 * HOUR - 1800, EVENING + 7 * HOUR
FIRST_TARGET, SECOND_TARGET = DARK + 1800, DARK + 1800 + HOUR


def _row(at: int, words: str, kind: str, until: int | None = None, number: int = 0) -> Row:
    return Row(at, until, _clock(at), words, kind, number)


SAMPLE = Facts(
    trip="Core over the long wall",
    club="Meadow Night Club",
    evening="2027-06-05",
    site="Broom Hill",
    spot="Behind the hut",
    zone="Europe/Madrid",
    zone_words="Local time, Spain (UTC +2)",
    ends_at=LEAVE,
    glance=Glance(
        state="go",
        decision=("We go. Meet at 20:30: lower car park.", "If you hear nothing, come."),
        meet_at=MEET,
        meet_clock=_clock(MEET),
        meet_point="Lower car park, Broom Hill",
        leave_by="19:30",
        dark=Answer("23:30 to 04:32", "We stay until 03:00"),
        moon=Answer("None while it is dark", "Thin crescent, 2 % lit, sets at 22:47"),
        coldest=Answer("6 °C at 03:00", "Feels like 3 °C. Winter jacket"),
    ),
    dangers=(
        "A drop of 8 m without a fence behind the wall: stay on the hut side of the white rope.",
        "The drive home at 03:30: sleep first, or share the wheel.",
    ),
    first=First(
        title="with 24 mm at f/2.8, from 00:00",
        shutter="15 s",
        aperture="f/2.8",
        iso="3200",
        how=("Raw, manual focus, self-timer of 2 s.",),
    ),
    targets=(
        _target(
            1, "Galactic core", FIRST_TARGET,
            "Two fists left of the hut, one and a half up",
            "At 00:30: 154° true, 153° compass, 16° up",
        ),
        _target(
            2, "Milky Way arch", SECOND_TARGET,
            "East-north-east, five fists up",
            "At 01:30: 73° true, 72° compass, 50° up",
        ),
    ),
    not_tonight=("Jupiter: behind the land all night",),
    rows=(
        _row(MEET, "Meet, head count", "meet"),
        _row(EVENING + 5400, "Sunset", "sky"),
        _row(DARK, "Dark. White lights off", "sky"),
        _row(FIRST_TARGET, "1 Galactic core", "target", FIRST_TARGET + HOUR, 1),
        _row(SECOND_TARGET, "2 Milky Way arch", "target", SECOND_TARGET + HOUR, 2),
        _row(LEAVE, "Head count, walk down together", "leave"),
    ),
    strip=PICTURE.format("The night"),
    skies=(
        Sky(
            at=FIRST_TARGET + 1800,
            clock="00:30",
            picture=PICTURE.format("Whole sky at 00:30"),
            hold="Hold it overhead, S toward the hut.",
            pointers=("From Antares: one and a half fists left, half a fist down.",),
        ),
    ),
    help=Help(
        number="112",
        signal="No phone signal here. The chapel, 1.2 km down the track, has.",
        position=("Broom Hill", "40.4000° N, 1.1000° W", "1600 m"),
        geo="geo:40.4000,-1.1000",
        how=("First aid: in the van.",),
        calls=(Call("Nadia", "+34 600 000 000"),),
    ),
    texts={
        "focus": ("At 23:15: Vega, half a fist left of the hut, four up.",),
        "foreground": ("Twilight: 22:04 to 22:31.", "Moonlit: none tonight, it sets at 22:47."),
        "tracker": ("The pole is 40° up. Polaris at 6:40 on a clock face.",),
        "turn": (),
        "bring": ("Winter jacket, hat, gloves.", "Two batteries, the spare in an inside pocket."),
        "cautions": ("Cattle with calves: close gates, keep 50 m.", "Lasers: ask who leads first."),
        "way": ("75 min by car, then 10 min on foot.",),
        "permit": ("No permit is needed.",),
        "second": ("Wind above 40 km/h: the old sheepfold, 12 min back down.",),
    },
    rules="Local rules, land managers and licensed guides decide: if one says no, we do not "
    "go.",
)  # fmt: skip
