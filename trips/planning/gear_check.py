"""Whether somebody's gear is fit for the nights of a trip: codes with figures, worded elsewhere.

Every bound here is common practice, no published source, but for the cabin's, which the organiser
typed. What a person has not said is no fault: it is asked for where it matters.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from typing import Any

from sky.camera.practice import TRACKED_PAST_MM, wants_tracker
from trips.planning.cold_advice import BATTERIES_C
from trips.planning.gear.bag import Gear
from trips.planning.gear.batteries import Batteries
from trips.planning.gear.camera import Camera
from trips.planning.gear.kinds import NAMES
from trips.planning.gear.lens import Lens
from trips.planning.gear.pairs import pairs
from trips.planning.gear.piece import Piece
from trips.planning.gear.support import Support
from trips.planning.gear.tracker import Tracker

LEAST_LEG_MM = 25.0
USUAL_SECTIONS = (3, 4)
# Pointing up, one looks at the screen from below.
TALL_CM = 140.0
BATTERIES, BATTERIES_IN_THE_COLD = 2, 3


class Verdict(Enum):
    GOOD = "good"
    WEAK = "weak"  # it works, with care
    LACKING = "lacking"  # to be borrowed, or left at home
    UNKNOWN = "unknown"  # not said, and it matters


@dataclass(frozen=True, slots=True)
class Plan:
    """What the trip asks of gear. `coldest_c` None: nobody typed a temperature.

    `has_panorama`: a wanted target is wider than lenses see. `is_dewy`: dew is likely, None where
    nobody knows. Cabin limits None: nobody flies, or nobody typed them.
    """

    has_panorama: bool = False
    coldest_c: float | None = None
    is_dewy: bool | None = None
    cabin_length_cm: float | None = None
    cabin_weight_kg: float | None = None

    @property
    def is_cold(self) -> bool:
        """Whether batteries give about half, and people wear gloves that feel nothing."""
        return self.coldest_c is not None and self.coldest_c <= BATTERIES_C


@dataclass(frozen=True, slots=True)
class Finding:
    """`kind`: which gear it is about, and what the loan kit is searched for where it is lacking."""

    code: str
    verdict: Verdict
    kind: str
    figures: Mapping[str, Any] = field(default_factory=dict)

    @property
    def is_short(self) -> bool:
        return self.verdict is Verdict.LACKING


def check(gear: Gear, plan: Plan) -> tuple[Finding, ...]:
    """Give what there is to say, in the order in which people are asked for gear."""
    return (
        *_camera_and_lens(gear),
        *_support(gear, plan),
        *_tracker(gear),
        *_small(gear, plan),
        *_cabin(gear, plan),
    )


def short(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Give the kinds that somebody lacks, each once."""
    return tuple(dict.fromkeys(one.kind for one in findings if one.is_short))


def _camera_and_lens(gear: Gear) -> Iterator[Finding]:
    if not gear.cameras:
        yield Finding("no_camera", Verdict.LACKING, "camera")
    if gear.lenses:
        return
    if gear.cameras and all(camera.is_phone for camera in gear.cameras):
        yield Finding("phone_lens_unknown", Verdict.UNKNOWN, "lens")
    else:
        yield Finding("no_lens", Verdict.LACKING, "lens")


def _support(gear: Gear, plan: Plan) -> Iterator[Finding]:
    """Judge the best support that there is: one is enough."""
    if not gear.supports:
        yield Finding("no_support", Verdict.LACKING, "support")
        return
    judged = [tuple(_one_support(one, gear, plan)) for one in gear.supports]
    yield from min(judged, key=_faults)


def _faults(findings: Sequence[Finding]) -> tuple[int, int, int]:
    counts = {verdict: sum(one.verdict is verdict for one in findings) for verdict in Verdict}
    return counts[Verdict.LACKING], counts[Verdict.WEAK], counts[Verdict.UNKNOWN]


def _one_support(support: Support, gear: Gear, plan: Plan) -> Iterator[Finding]:
    yield from _legs(support)
    yield from _column(support)
    yield from _base(support, gear, plan)
    yield from _locks(support, plan)
    yield from _height(support)
    yield from _load(support, gear)


def _legs(support: Support) -> Iterator[Finding]:
    if support.is_travel:
        yield Finding("support_travel", Verdict.LACKING, "support")
    if support.leg_mm is None:
        yield Finding("legs_unknown", Verdict.UNKNOWN, "support", {"least": LEAST_LEG_MM})
    else:
        figures = {"leg": support.leg_mm, "least": LEAST_LEG_MM}
        is_thin = support.leg_mm < LEAST_LEG_MM
        code, verdict = ("legs_thin", Verdict.WEAK) if is_thin else ("legs", Verdict.GOOD)
        yield Finding(code, verdict, "support", figures)
    if support.sections is not None:
        is_usual = support.sections in USUAL_SECTIONS
        many = support.sections > USUAL_SECTIONS[-1]
        code = "sections" if is_usual else "sections_many" if many else "sections_few"
        verdict = Verdict.GOOD if is_usual else Verdict.WEAK
        yield Finding(code, verdict, "support", {"sections": support.sections})


def _column(support: Support) -> Iterator[Finding]:
    if support.centre_column == "raised":
        yield Finding("column_raised", Verdict.WEAK, "support")
    elif support.centre_column != "unknown":
        yield Finding("column", Verdict.GOOD, "support")


def _base(support: Support, gear: Gear, plan: Plan) -> Iterator[Finding]:
    if not (gear.trackers or plan.has_panorama):
        return
    wanted_for = {"tracker": bool(gear.trackers), "panorama": plan.has_panorama}
    if not support.has_level:
        yield Finding("no_level", Verdict.WEAK, "support", wanted_for)
    if not support.turns and plan.has_panorama:
        yield Finding("no_turning_base", Verdict.WEAK, "support")
    if support.has_level and (support.turns or not plan.has_panorama):
        yield Finding("base", Verdict.GOOD, "support", wanted_for)


def _locks(support: Support, plan: Plan) -> Iterator[Finding]:
    if not plan.is_cold:
        return
    figures = {"coldest": plan.coldest_c}
    if support.leg_lock == "flip":
        yield Finding("flip_locks", Verdict.WEAK, "support", figures)
    elif support.leg_lock == "twist":
        yield Finding("twist_locks", Verdict.GOOD, "support", figures)


def _height(support: Support) -> Iterator[Finding]:
    if support.height_cm is None:
        return
    figures = {"height": support.height_cm, "tall": TALL_CM}
    is_tall = support.height_cm >= TALL_CM
    code, verdict = ("height", Verdict.GOOD) if is_tall else ("height_low", Verdict.WEAK)
    yield Finding(code, verdict, "support", figures)


def _load(support: Support, gear: Gear) -> Iterator[Finding]:
    """Compare what it is made for with the heaviest that stands on it."""
    on_top = _heaviest(gear)
    if support.load_kg is None or on_top is None:
        return
    trackers = max((one.weight_kg or 0.0 for one in gear.trackers), default=0.0)
    figures = {"load": support.load_kg, "weight": on_top + trackers}
    if support.load_kg < on_top + trackers:
        yield Finding("load_over", Verdict.LACKING, "support", figures)


def _heaviest(gear: Gear) -> float | None:
    """Give the weight of the heaviest camera with a lens that it takes; None: not all are said."""
    weights = [
        camera.weight_kg + (0.0 if camera.is_phone else lens.weight_kg or 0.0)
        for camera, lens in pairs(gear.cameras, gear.lenses)
        if camera.weight_kg is not None and (camera.is_phone or lens.weight_kg is not None)
    ]
    return max(weights, default=None)


def _tracker(gear: Gear) -> Iterator[Finding]:
    long = [(camera, lens) for camera, lens in pairs(gear.cameras, gear.lenses)
            if _is_long(camera, lens)]  # fmt: skip
    if long and not gear.trackers:
        longest = max(lens.longest_mm or lens.focal_mm for _, lens in long)
        figures = {"longest": longest, "past": TRACKED_PAST_MM}
        yield Finding("tracker_wanted", Verdict.LACKING, "tracker", figures)
    if gear.trackers:
        yield from _payload(max(gear.trackers, key=lambda one: one.payload_kg), gear)


def _is_long(camera: Camera, lens: Lens) -> bool:
    return not camera.is_phone and wants_tracker(lens.ends[-1], camera.sensor)


def _payload(tracker: Tracker, gear: Gear) -> Iterator[Finding]:
    carried = _heaviest(gear)
    figures = {"payload": tracker.payload_kg, "weight": carried}
    if carried is None:
        yield Finding("payload_unknown", Verdict.UNKNOWN, "tracker", figures)
    elif carried > tracker.payload_kg:
        yield Finding("payload_over", Verdict.LACKING, "tracker", figures)
    else:
        yield Finding("payload", Verdict.GOOD, "tracker", figures)


def _small(gear: Gear, plan: Plan) -> Iterator[Finding]:
    yield from _batteries(gear, plan)
    if not gear.releases:
        yield Finding("no_release", Verdict.WEAK, "release")
    if not gear.red_lights:
        yield Finding("no_red_light", Verdict.LACKING, "red_light")
    elif not any(one.starts_red for one in gear.red_lights):
        yield Finding("red_light_white_first", Verdict.WEAK, "red_light")
    else:
        yield Finding("red_light", Verdict.GOOD, "red_light")
    if plan.is_dewy and not gear.dew_heaters:
        yield Finding("no_dew_heater", Verdict.LACKING, "dew_heater")


def _batteries(gear: Gear, plan: Plan) -> Iterator[Finding]:
    if not gear.of(Batteries):
        yield Finding("batteries_unknown", Verdict.UNKNOWN, "batteries")
        return
    wanted = BATTERIES_IN_THE_COLD if plan.is_cold else BATTERIES
    figures = {"number": gear.batteries, "wanted": wanted, "coldest": plan.coldest_c}
    if gear.batteries >= wanted:
        yield Finding("batteries", Verdict.GOOD, "batteries", figures)
    else:
        code = "batteries_few_cold" if plan.is_cold else "batteries_few"
        yield Finding(code, Verdict.LACKING, "batteries", figures)


def _cabin(gear: Gear, plan: Plan) -> Iterator[Finding]:
    """Hold own pieces against what the organiser typed: what is lent is already there."""
    if plan.cabin_length_cm is not None:
        for support in gear.own:
            if isinstance(support, Support):
                yield from _cabin_length(support, plan.cabin_length_cm)
    if plan.cabin_weight_kg is not None:
        yield from _cabin_weight(gear.own, plan.cabin_weight_kg)


def _cabin_length(support: Support, most: float) -> Iterator[Finding]:
    figures = {"name": support.name, "folded": support.folded_cm, "most": most}
    if support.folded_cm is None:
        yield Finding("folded_unknown", Verdict.UNKNOWN, "support", figures)
    elif support.folded_cm > most:
        yield Finding("folded_long", Verdict.LACKING, "support", figures)
    else:
        yield Finding("folded", Verdict.GOOD, "support", figures)


def _cabin_weight(own: Sequence[Piece], most: float) -> Iterator[Finding]:
    for piece in own:
        weight = getattr(piece, "weight_kg", None)
        if weight is not None and weight > most:
            figures = {"name": piece.name, "weight": weight, "most": most}
            yield Finding("too_heavy", Verdict.WEAK, NAMES[type(piece)], figures)
