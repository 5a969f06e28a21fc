"""The demo reads its letters out: each line once, and none that is half written."""

from __future__ import annotations

from pathlib import Path

from demo.letters import LetterBox


def test_lines_are_given_once_when_they_are_whole(tmp_path: Path) -> None:
    (tmp_path / "old.log").write_text("read before\n")
    box = LetterBox(tmp_path)
    letter = tmp_path / "new.log"
    letter.write_bytes("Hello لـ\nhalf a l".encode())
    assert box.new_lines() == ["Hello لـ"]
    with letter.open("a") as file:
        file.write("ine\n")
    assert box.new_lines() == ["half a line"]
    assert box.new_lines() == []


def test_a_folder_that_is_not_there_holds_no_letters(tmp_path: Path) -> None:
    assert LetterBox(tmp_path / "none").new_lines() == []
