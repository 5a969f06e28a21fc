"""What is other in a brief than in the version before, in words that a person understands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from tests.trips.brief_sample import SAMPLE
from trips.planning.brief.changes import changes, is_same
from trips.planning.brief.facts import Facts, Written, kept_of

Change = Callable[[Facts], Facts]


def told(change: Change, before: Facts = SAMPLE) -> list[str]:
    return changes(kept_of(before), kept_of(change(before)))


def with_target(**fields: Any) -> Change:
    return lambda facts: replace(
        facts, targets=(replace(facts.targets[0], **fields), *facts.targets[1:])
    )


def with_text(name: str, *paragraphs: str) -> Change:
    return lambda facts: replace(facts, texts=facts.texts | {name: paragraphs})


def written(words: str) -> Change:
    return lambda facts: replace(facts, written={"bring": Written(words, is_instead=False)})


@pytest.mark.parametrize(
    ("change", "sentences"),
    [
        (lambda facts: facts, []),
        (with_target(picture="<svg/>"), []),
        (
            lambda facts: replace(facts, glance=replace(facts.glance, meet_point="The mill")),
            ["Meet: The mill. Before: Lower car park, Broom Hill."],
        ),
        (
            lambda facts: replace(
                facts, glance=replace(facts.glance, decision=("We do not go. Do not set out.",))
            ),
            [
                "Decision: We do not go. Do not set out. Before: We go. Meet at 20:30: lower car "
                "park. If you hear nothing, come."
            ],
        ),
        (
            lambda facts: replace(
                with_text("focus", "Otherwise.")(facts),
                spot="The old fold",
                glance=replace(facts.glance, leave_by="19:10"),
            ),
            [
                "Spot: The old fold, Broom Hill. Before: Behind the hut, Broom Hill.",
                "Leave by: 19:10. Before: 19:30.",
                "All else is told for the new spot.",
            ],
        ),
        (
            lambda facts: replace(facts, targets=facts.targets[:1]),
            ["Targets, in order: Galactic core. Before: Galactic core, Milky Way arch."],
        ),
        (
            with_target(window="01:00–02:00", direction="South, two up"),
            [
                "Galactic core: 01:00–02:00. Before: 00:00–01:00.",
                "Galactic core: South, two up. Before: Two fists left of the hut, one and a half "
                "up.",
            ],
        ),
        (
            with_target(settings="10 s, f/2.8, ISO 6400"),
            ["This part reads otherwise: Targets, in order."],
        ),
        (
            with_text("permit", "The land manager wants names."),
            ["Permit: The land manager wants names. Before: No permit is needed."],
        ),
        (
            with_text("way", "75 min by car, then 10 min on foot.", "Close the gate."),
            ["Way there: Close the gate. Before: –."],
        ),
        (with_text("focus", "x" * 200), ["This part reads otherwise: Focus."]),
        (
            lambda facts: replace(facts, help=replace(facts.help, number="999")),
            ["Emergency number: 999. Before: 112."],
        ),
        (written("A rope."), ["Clothing and battery: who leads wrote into it."]),
    ],
)
def test_each_change_is_said_with_what_was_before_and_nothing_else_is(
    change: Change, sentences: list[str]
) -> None:
    assert told(change) == sentences
    assert is_same(kept_of(SAMPLE), kept_of(change(SAMPLE))) is not bool(sentences)


def test_parts_that_take_too_many_words_are_named_together_at_the_end() -> None:
    def change(facts: Facts) -> Facts:
        texts = facts.texts | {"focus": ("x" * 200,), "way": ("y" * 200,), "permit": ("No.",)}
        return replace(facts, texts=texts)

    assert told(change) == [
        "Permit: No. Before: No permit is needed.",
        "These parts read otherwise: Focus; Way there.",
    ]


def test_what_who_leads_had_written_is_told_as_gone_or_other() -> None:
    before = written("A rope.")(SAMPLE)
    assert told(written("Two ropes."), before) == [
        "Clothing and battery: who leads wrote something else."
    ]
    assert told(lambda facts: replace(facts, written={}), before) == [
        "Clothing and battery: what who leads had written is gone."
    ]
