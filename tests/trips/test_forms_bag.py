"""A bag of lenses as people type it: read forgivingly, and what is no lens is named."""

from __future__ import annotations

import pytest

from trips.forms.bag import MOST_LENSES, read_bag


def told(text: str) -> list[str]:
    return [f"{lens.focal_mm:g}/{lens.widest_f_number:g}" for lens in read_bag(text).lenses]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("14 f/2.8, 24-70 f/2.8, 135/2", ["14/2.8", "24/2.8", "70/2.8", "135/2"]),
        ("14 f/2,8; 50 1,8", ["14/2.8", "50/1.8"]),
        ("135/2,300/4", ["135/2", "300/4"]),
        ("100–400mm f4.5-5.6", ["100/4.5", "400/5.6"]),
        ("24mm f/1.4 50 mm F1.8", ["24/1.4", "50/1.8"]),
        ("35 1:1.4 and f/2 135mm", ["35/1.4", "135/2"]),
        ("50 f/1.8\n14 f/2.8", ["14/2.8", "50/1.8"]),
        ("24-70 f/2.8, 24 f/2.8", ["24/2.8", "70/2.8"]),
        ("", []),
    ],
)
def test_lenses_are_read_as_people_write_them(typed: str, meant: list[str]) -> None:
    assert told(typed) == meant
    assert read_bag(typed).mistakes == ()


def test_a_fisheye_draws_as_one_and_its_neighbour_does_not() -> None:
    by_focal = {lens.focal_mm: lens.projection for lens in read_bag("8/3.5 fisheye, 24/1.4").lenses}
    assert by_focal == {8.0: "equisolid", 24.0: "rectilinear"}


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("50 f/1.8, tele", "“tele” is no lens that can be read; write it like 50 f/1.8."),
        ("50 f/1.8, 85 mm", "“85 mm” has no f-number; write it like 50 f/1.8."),
        ("50 f/1.8, 0 f/2", "“0 f/2”: No lens has a focal length of 0 mm"),
        ("50 f/1.8, 1 f/2", "“1 f/2”: No lens has a focal length of 1 mm"),
        ("50 f/1.8, 24 f/0", "“24 f/0”: No lens has f/0"),
        ("50 f/1.8, -5 f/2", "“-5 f/2” is no lens"),
    ],
)
def test_what_is_no_lens_is_named_and_the_others_count(typed: str, said: str) -> None:
    bag = read_bag(typed)
    assert told(typed) == ["50/1.8"]
    assert len(bag.mistakes) == 1
    assert bag.mistakes[0].startswith(said)


def test_a_mistake_repeats_little_of_what_was_typed() -> None:
    (mistake,) = read_bag("x" * 1000).mistakes
    assert len(mistake) < 120


def test_more_lenses_than_a_bag_holds_are_told() -> None:
    bag = read_bag(", ".join(f"{mm}/4" for mm in range(20, 21 + MOST_LENSES)))
    assert len(bag.lenses) == MOST_LENSES
    assert bag.mistakes == (f"These are {MOST_LENSES + 1} lenses; the first 24 are compared.",)
