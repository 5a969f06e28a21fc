"""A night's brief for one person: their lens on each target, their turn, their units.

Only that: nothing of anybody else. It hangs on the enrolment and is deleted with it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.camera_words import lens_words
from trips.almanac.framing import PanoramaRow, panorama_for
from trips.almanac.lens_tonight import Rig, Take, UsualTake, take
from trips.almanac.lens_tonight_words import take_words, tracker_words
from trips.almanac.local_time import clock
from trips.almanac.tonight import TargetTonight
from trips.models import Enrolment, LoanItem, Turn
from trips.planning.brief.facts import Facts, Kept, Paragraphs, Row, Target
from trips.planning.gear import Gear
from trips.services.briefs.drafts import Draft, facts_of
from trips.services.briefs.rows import in_order
from trips.services.briefs.sky import Placed
from trips.services.briefs.targets import frame
from trips.services.gear import piece_of
from trips.services.gear_rigs import OwnRig, rigs_of

NO_GEAR = gettext_lazy(
    "You have not said yet what you bring: these are settings of a usual lens on full frame."
)

NO_TRACKER = gettext_lazy("You bring none and have no turn at one: there is nothing to set up.")


@dataclass(frozen=True, slots=True)
class Own:
    """What a person has on this night. `kit` is what the club could still lend then."""

    enrolment: Enrolment
    gear: Gear
    turns: Sequence[Turn] = ()
    kit: Sequence[LoanItem] = ()


def personal_facts(draft: Draft, own: Own) -> Facts:
    """Give the brief as this person reads it."""
    shared = facts_of(draft, units=own.enrolment.person.units)
    rigs = list(rigs_of(own.gear))
    found = [_best(rigs, placed.one) for placed in draft.sky.placed]
    targets = tuple(
        _own_target(target, best, placed, own)
        for target, best, placed in zip(shared.targets, found, draft.sky.placed, strict=True)
    )
    firsts = (
        frame(_named(best), UsualTake(best.rig.rig, best.take), target)
        for best, target in zip(found, targets, strict=True)
        if best
    )
    return replace(
        shared,
        reader=own.enrolment.person.name,
        targets=targets,
        first=next(filter(None, firsts), shared.first),
        rows=in_order([*shared.rows, *_turn_rows(own.turns, draft.sky.zone)]),
        texts={**shared.texts, **_own_texts(own, draft)},
    )


def differing(own: Kept, shared: Kept) -> Kept:
    """Give what of one is other than in the other, by its name."""
    return {name: value for name, value in own.items() if shared.get(name) != value}


@dataclass(frozen=True, slots=True)
class _Best:
    rig: OwnRig
    take: Take


def _best(rigs: Sequence[OwnRig], one: TargetTonight) -> _Best | None:
    """Give how the best of a person's rigs takes a target: framed and possible first."""
    found = [_Best(rig, take(rig.rig, one)) for rig in rigs]
    return min(found, key=_rank, default=None)


def _rank(best: _Best) -> tuple[bool, bool, bool, float]:
    one = best.take
    return (
        not one.is_possible, not one.frames, one.shot.is_tracked, best.rig.rig.lens.focal_mm,
    )  # fmt: skip


def _named(best: _Best) -> str:
    """Give "your 24 mm f/1.8"; with the camera's name where it has one."""
    words = {"lens": lens_words(best.rig.rig.lens), "camera": best.rig.camera.name}
    return (
        _("your %(lens)s on “%(camera)s”") if best.rig.camera.name else _("your %(lens)s")
    ) % words


def _own_target(target: Target, best: _Best | None, placed: Placed, own: Own) -> Target:
    if best is None:
        return replace(target, how=(*target.how, str(NO_GEAR)))
    settings, costs = take_words(best.rig.rig, best.take)
    kept = target.how[:1] if len(placed.stands_right) and _is_longer(placed) else ()
    return replace(
        target,
        lens=_named(best),
        settings=settings,
        how=(
            *kept, *_on_what(best.take), *_framing(best.rig.rig, best.take), *costs,
            *_lent(best, placed.one, own),
        ),
        tracked=tracker_words(best.rig.rig, best.take),
    )  # fmt: skip


def _is_longer(placed: Placed) -> bool:
    return placed.stands_right != ((placed.start, placed.end),)


def _on_what(one: Take) -> Iterator[str]:
    if one.shot.is_tracked:
        yield _("On your tracker.")


def _framing(rig: Rig, one: Take) -> Iterator[str]:
    """Say how it fits, or how many frames a panorama takes."""
    if one.framing is None:
        return
    if one.framing.fit == "too-loose":
        words = _("It stands small: your lens sees %(margin).0f times as wide as it needs.")
        yield words % {"margin": one.framing.margin}
    elif one.framing.fit == "frames":
        yield _("Upright.") if one.framing.is_portrait else _("Held level.")
    else:
        yield from _panorama(rig, one)


def _panorama(rig: Rig, one: Take) -> Iterator[str]:
    plan = panorama_for(
        rig.lens, rig.sensor, one.target.target, one.target.field_degrees, one.shot.seconds
    )
    if plan is None:
        yield _("Wider than your lens sees, and too wide for a panorama with it.")
        return
    if not one.target.is_arch:
        words = _(
            "Wider than your lens sees: take %(frames)d frames, turn the camera %(step).0f° in "
            "between, and join them at home."
        )
        yield words % {"frames": plan.frames, "step": plan.rows[0].turn_degrees}
        return
    words = _("A panorama of %(frames)d frames: %(rows)s.")
    yield words % {"frames": plan.frames, "rows": "; ".join(map(_row_words, plan.rows))}


def _row_words(row: PanoramaRow) -> str:
    words = _("%(frames)d at %(tilt).0f° up, %(step).0f° apart")
    return words % {
        "frames": row.frames, "tilt": row.altitude_degrees, "step": row.turn_degrees
    }  # fmt: skip


def _lent(best: _Best, one: TargetTonight, own: Own) -> Iterator[str]:
    """Say which piece of the club's kit would do what this person's gear cannot."""
    if best.take.is_possible:
        return
    for item in own.kit:
        piece = piece_of(item)
        if piece is None:
            continue
        with_it = list(rigs_of(replace(own.gear, own=(*own.gear.own, piece))))
        better = _best(with_it, one)
        if better is not None and better.take.is_possible:
            words = _("“%(item)s” would fit, and the club lends it: ask for it with your gear.")
            yield words % {"item": item.name}
            return


def _turn_rows(turns: Sequence[Turn], zone: str) -> Iterator[Row]:
    for turn in turns:
        words = _("Your turn: %(what)s") % {"what": turn.rota.what}
        yield Row(
            round(turn.starts_at.timestamp()), round(turn.ends_at.timestamp()),
            clock(turn.starts_at, zone), words, "turn",
        )  # fmt: skip


def _own_texts(own: Own, draft: Draft) -> dict[str, Paragraphs]:
    texts: dict[str, Paragraphs] = {}
    if own.turns:
        texts["turn"] = tuple(_turn(turn, draft.sky.zone) for turn in own.turns)
    elif draft.rotas:
        texts["turn"] = (_("You have no turn on this night: ask who leads."),)
    if not own.turns and not own.gear.trackers:
        texts["tracker"] = (str(NO_TRACKER),)
    return texts


def _turn(turn: Turn, zone: str) -> str:
    words = _("%(start)s to %(end)s: %(what)s, place %(station)d.")
    return words % {
        "start": clock(turn.starts_at, zone), "end": clock(turn.ends_at, zone),
        "what": turn.rota.what, "station": turn.station,
    }  # fmt: skip
