"""Which targets a group can take, and to whom trackers are best lent, held against every way."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from trips.planning.group_targets import ABLE, Means, lending, ranked

GROUP = {
    "core": {"Ilse": Means.STANDING, "Bao": Means.STANDING, "Noor": Means.WANTS_TRACKER},
    "galaxy": {"Ilse": Means.WANTS_TRACKER, "Bao": Means.NO_LENS, "Noor": Means.WANTS_TRACKER},
    "arch": {"Ilse": Means.STANDING, "Bao": Means.STANDING, "Noor": Means.OWN_TRACKER},
    "nebula": {"Ilse": Means.NO_LIGHT, "Bao": Means.NO_LENS, "Noor": Means.WANTS_TRACKER},
}


def test_targets_stand_by_how_many_can_take_them() -> None:
    assert [row.target for row in ranked(GROUP)] == ["arch", "core", "galaxy", "nebula"]


def test_a_target_says_who_can_who_could_and_who_cannot() -> None:
    rows = {row.target: row for row in ranked(GROUP)}
    assert (rows["galaxy"].able, rows["galaxy"].wanting) == ((), ("Ilse", "Noor"))
    assert (rows["galaxy"].no_lens, rows["nebula"].no_light) == (("Bao",), ("Ilse",))
    assert rows["arch"].able == ("Ilse", "Bao", "Noor")


def test_a_tracker_goes_to_whom_it_opens_most() -> None:
    first, second = lending(GROUP)
    assert (first.person, first.targets) == ("Noor", ("core", "galaxy", "nebula"))
    assert (second.person, second.targets) == ("Ilse", ("galaxy",))


def test_weights_turn_the_order_of_lending() -> None:
    group = {
        "faint": {"a": Means.WANTS_TRACKER, "b": Means.STANDING},
        "wanted": {"a": Means.STANDING, "b": Means.WANTS_TRACKER},
    }
    assert lending(group, {"faint": 0.2, "wanted": 1.0})[0].person == "b"


def test_nobody_who_gains_nothing_is_lent_a_tracker() -> None:
    assert lending({"core": {"a": Means.STANDING, "b": Means.NO_LENS}}) == ()


@given(st.lists(st.lists(st.sampled_from(list(Means)), min_size=4, max_size=4), max_size=4))
def test_the_first_of_them_are_the_best_of_all_ways_to_lend(table: list[list[Means]]) -> None:
    means = {n: dict(enumerate(row)) for n, row in enumerate(table)}
    order = [one.person for one in lending(means)]
    for k in range(5):
        best = max(_taken(means, set(lent)) for lent in combinations(range(4), k))
        assert _taken(means, set(order[:k])) == best


def _taken(means: dict[int, dict[int, Means]], lent: set[int]) -> int:
    """Count the pairs of a person and a target that they can take."""
    return sum(
        one in ABLE or (one is Means.WANTS_TRACKER and person in lent)
        for of_people in means.values()
        for person, one in of_people.items()
    )
