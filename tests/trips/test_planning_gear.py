"""Gear as values: what is stored is read back, and what cannot be is refused in one sentence."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from trips.almanac.gear_words import FIELD_WORDS, KIND_WORDS
from trips.almanac.wording import SkyError, sentence
from trips.planning.gear import KINDS, NAMES, Gear, Lens, Tape, Tracker, read, written
from trips.planning.gear.piece import said

WHOLE: dict[str, dict[str, Any]] = {
    "camera": {"sensor_width_mm": 36.0, "sensor_height_mm": 24.0, "pixels_wide": 6000,
               "pixels_high": 4000, "top_iso": 6400},
    "lens": {"focal_mm": 24.0, "longest_mm": 70.0, "widest_f_number": 2.8,
             "projection": "rectilinear"},
    "support": {"leg_mm": 28.0, "sections": 3, "centre_column": "none", "leg_lock": "twist",
                "has_level": True, "turns": False, "is_travel": False},
    "tracker": {"payload_kg": 5.0, "stated_error_arcseconds_per_minute": 1.5,
                "polar_error_arcminutes": 5.0},
    "release": {"way": "cable", "holds_open": True},
    "batteries": {"number": 3},
    "red_light": {"starts_red": True},
    "dew_heater": {"hours": 6.0},
    "magnifier": {"times": 4.0},
    "tape": {},
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_what_a_piece_says_of_itself_is_read_back_as_it_was_written(kind: str) -> None:
    piece = read(kind, WHOLE[kind], name="Wren")
    assert written(piece) == WHOLE[kind]
    assert (piece.name, NAMES[type(piece)]) == ("Wren", kind)


def test_every_kind_and_every_figure_has_its_words() -> None:
    assert set(KIND_WORDS) == set(KINDS)
    told = {one.name for kind in KINDS.values() for one in said(kind)}
    assert told == set(FIELD_WORDS)


@pytest.mark.parametrize(
    ("kind", "changed", "words"),
    [
        ("lens", {"focal_mm": 0}, "No lens has a focal length of 0 mm"),
        ("lens", {"widest_f_number": 0}, "No lens has f/0"),
        ("lens", {"longest_mm": 20}, "20 mm is not longer than 24 mm"),
        ("lens", {"projection": "round"}, "“round” is none of those that are offered"),
        ("camera", {"sensor_width_mm": 0}, "cannot be 0: write from 0.5 to 120"),
        ("camera", {"pixels_high": 9000}, "pixels are square"),
        ("camera", {"top_iso": None, "pixels_wide": None}, "“Pixels across” is empty"),
        ("support", {"sections": 2.5}, "2.5 is not a whole number"),
        ("support", {"weight_kg": 5000}, "“Weight (kg)” cannot be 5000: write from 0.01 to 40."),
        ("support", {"leg_mm": float("nan")}, "“nan” is not a number"),
        ("tracker", {"payload_kg": True}, "“True” is not a number"),
        ("batteries", {"number": -1}, "cannot be −1"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(
    kind: str, changed: dict[str, Any], words: str
) -> None:
    with pytest.raises(SkyError) as refused:
        read(kind, WHOLE[kind] | changed)
    assert words in sentence(refused.value)


def test_what_a_kind_no_longer_knows_is_left_out_and_an_unknown_kind_refused() -> None:
    assert read("tape", {"colour": "black"}) == Tape()
    with pytest.raises(SkyError, match="gear_kind_unknown"):
        read("anvil", {})


def test_a_zoom_is_its_two_ends() -> None:
    zoom = Lens(focal_mm=18, longest_mm=55, widest_f_number=3.5, widest_at_longest=5.6)
    assert [(one.focal_mm, one.widest_f_number) for one in zoom.ends] == [(18, 3.5), (55, 5.6)]


def test_what_is_lent_for_one_night_is_there_on_that_night_only() -> None:
    tracker = Tracker(name="Tern", payload_kg=5)
    first, second = date(2027, 3, 5), date(2027, 3, 6)
    gear = Gear(own=(Tape(),), lent=((first, tracker),))
    assert gear.on(first).trackers == (tracker,)
    assert gear.on(second).trackers == ()
    assert gear.on(second).of(Tape) == (Tape(),)
