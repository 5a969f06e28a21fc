"""The watch over the nights goes on whatever happens, and ends when its worker ends."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event, Thread

import pytest

from shared.call_out_watch import TASK, CallOutWatch, watch
from shared.celery import app


def test_a_look_that_breaks_does_not_end_the_watch(caplog: pytest.LogCaptureFixture) -> None:
    ended, looks = Event(), iter([OSError("the database is away"), None])

    def look() -> None:
        trouble = next(looks)
        if trouble:
            raise trouble
        ended.set()

    _in_a_thread_of_its_own(look, ended).join(10)
    assert next(looks, "all were had") == "all were had"
    assert "the database is away" in caplog.text


def _in_a_thread_of_its_own(look: Callable[[], None], ended: Event) -> Thread:
    thread = Thread(target=watch, args=(look, ended), kwargs={"every": 0.01}, daemon=True)
    thread.start()
    return thread


def test_the_watch_ends_when_it_is_asked_to() -> None:
    ended, looked = Event(), Event()
    thread = _in_a_thread_of_its_own(looked.set, ended)
    assert looked.wait(10)
    ended.set()
    thread.join(10)
    assert not thread.is_alive()


def test_every_worker_has_one_and_no_beat_is_asked_for_it() -> None:
    assert CallOutWatch in app.steps["worker"]
    app.loader.import_default_modules()
    assert TASK in app.tasks
    assert TASK not in {entry["task"] for entry in app.conf.beat_schedule.values()}
