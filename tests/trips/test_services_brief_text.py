"""A brief as plain text: narrow, whole, in the order of the page, and no more than text."""

from __future__ import annotations

from dataclasses import replace

from tests.trips.brief_sample import SAMPLE
from trips.planning.brief.facts import Call, Facts, Written, kept_of
from trips.planning.brief.parts import AT_HOME, PARTS
from trips.services.briefs.as_text import as_text
from trips.services.briefs.columns import WIDTH, columns
from trips.services.briefs.without_reader import DRAFT


def _text(facts: Facts) -> str:
    return as_text(kept_of(facts))


def _with(text: str, *, is_instead: bool = False, part: str = "focus") -> str:
    return _text(replace(SAMPLE, written={part: Written(text, is_instead)}))


def test_the_parts_stand_in_the_order_of_the_page_at_home() -> None:
    lines = _text(SAMPLE).splitlines()
    titles = [str(PARTS[name].title).upper() for name in AT_HOME if name != "turn"]
    assert [line for line in lines if line in titles] == titles


def test_nothing_that_is_read_in_the_field_is_lost() -> None:
    text = " ".join(_text(SAMPLE).split())
    facts = kept_of(SAMPLE)
    said = [
        *facts["dangers"], *facts["help"]["position"], facts["help"]["geo"], facts["rules"],
        *(words for paragraphs in facts["texts"].values() for words in paragraphs),
        *(one[key] for one in facts["targets"] for key in ("direction", "degrees", "settings")),
        *(f"{row['clock']} {row['words']}" for row in facts["rows"]),
    ]  # fmt: skip
    assert [words for words in said if words not in text] == []


def test_words_stand_before_figures() -> None:
    text = _text(SAMPLE)
    assert text.index("Two fists left of the hut") < text.index("154° true")


def test_no_line_is_wider_than_72_columns_in_any_script() -> None:
    words = "夜空の写真" * 60 + " " + "ضوء القمر " * 40 + "x" * 200
    assert max(map(columns, _with(words).splitlines())) == WIDTH
    assert columns("夜") == 2


def test_an_instructors_words_are_told_apart_and_those_computed_stay() -> None:
    text = _with("Use the <b>red</b> lamp.\n\nThen #wait.")
    assert "From who leads:\n| Use the <b>red</b> lamp.\n|\n| Then #wait.\nAt 23:15" in text


def test_an_instructors_words_stand_instead_where_they_said_so() -> None:
    text = _with("Mine.", is_instead=True)
    assert "| Mine." in text
    assert "At 23:15" not in text


def test_a_terminal_is_not_steered_by_what_somebody_typed() -> None:
    assert "\x1b" not in _with("\x1b[2Jgone\x07", part="way")


def test_a_name_from_right_to_left_is_set_apart_from_the_number_to_call() -> None:
    help_ = replace(SAMPLE.help, calls=(Call("ليلى", "+34 600 000 000"),))
    assert "\u2068ليلى\u2069, +34 600 000 000" in _text(replace(SAMPLE, help=help_))


def test_a_draft_says_so_first_and_what_is_published_does_not() -> None:
    assert as_text(kept_of(SAMPLE), is_draft=True).startswith(f"{DRAFT}\n")
    assert str(DRAFT) not in _text(SAMPLE)


def test_a_part_with_nothing_to_say_has_no_title() -> None:
    assert "YOUR TURN" not in _text(SAMPLE)


def test_all_of_a_long_note_is_there() -> None:
    assert _with("word " * 4000).count("word") == 4000


def test_a_night_that_does_not_go_says_so_first_and_where_it_was_to_be() -> None:
    off = replace(SAMPLE.glance, state="no_go", decision=("We do not go. Do not set out.",))
    meet = _text(replace(SAMPLE, glance=off)).split("MEET\n")[1].split("\n\n")[0]
    assert meet.splitlines()[0] == "We do not go. Do not set out."
    assert "It was to be at 20:30: Lower car park, Broom Hill." in meet
    assert "Leave by" not in meet
