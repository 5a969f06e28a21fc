"""Messages in a folder: a reader never meets a half of one, and a damaged one stops nobody."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from queue import Empty
from typing import Any

import pytest
from kombu import Connection

from shared import message_folder


@pytest.fixture
def channel(tmp_path: Path) -> Iterator[Any]:
    folders = {"data_folder_in": str(tmp_path), "data_folder_out": str(tmp_path),
               "control_folder": str(tmp_path / "control")}  # fmt: skip
    with Connection("filesystem://", transport_options=folders) as connection:
        yield connection.default_channel


def test_this_is_the_transport_that_the_settings_name(channel: Any) -> None:
    assert isinstance(channel, message_folder.Channel)


def test_messages_come_out_as_they_went_in_the_oldest_first(channel: Any) -> None:
    channel._put("celery", {"id": 1, "name": "é"})
    channel._put("celery", {"id": 2})
    channel._put("other", {"id": 3})
    assert [channel._get("celery")["id"] for _ in range(2)] == [1, 2]
    with pytest.raises(Empty):
        channel._get("celery")


def test_a_message_has_no_name_to_be_read_by_before_it_is_written(
    channel: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[int] = []
    write = Path.write_text

    def look_first(path: Path, *args: Any) -> int:
        path.touch()
        seen.append(channel._size("celery"))
        return write(path, *args)

    monkeypatch.setattr(Path, "write_text", look_first)
    channel._put("celery", {"id": 1})
    assert seen == [0]
    assert channel._size("celery") == 1


def test_an_empty_message_is_passed_over_and_gone(channel: Any, tmp_path: Path) -> None:
    (tmp_path / "00_x.celery.msg").touch()
    channel._put("celery", {"id": 2})
    with pytest.raises(Empty):
        channel._get("celery")
    assert channel._get("celery") == {"id": 2}
