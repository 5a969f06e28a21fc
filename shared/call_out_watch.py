"""Overdue nights are looked after by a thread of their own in every worker.

A message from the beat stands in line behind all that keeps the worker's threads: seasons that are
computed, a mail server that hangs. The watch stands behind nothing, and wants no beat and no
broker. In several workers it runs several times; each letter goes once all the same.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from threading import Event, Thread
from typing import Any

from celery import bootsteps
from django.db import connections

logger = logging.getLogger(__name__)

TASK = "trips.call_out"
LOOK_EVERY_SECONDS = 5
PATIENCE_SECONDS = 5


class CallOutWatch(bootsteps.StartStopStep):
    requires = ("celery.worker.components:Pool",)  # which forks, and must not fork this thread

    def start(self, worker: Any) -> None:
        self.ended = Event()
        look = worker.app.tasks[TASK]
        self.thread = Thread(target=watch, args=(look, self.ended), name="call-outs", daemon=True)
        self.thread.start()

    def stop(self, _worker: Any) -> None:
        self.ended.set()
        self.thread.join(PATIENCE_SECONDS)  # a letter that hangs longer is taken up by another


def watch(look: Callable[[], None], ended: Event, *, every: float = LOOK_EVERY_SECONDS) -> None:
    """Look again and again, whatever happens in between."""
    while True:
        try:
            look()
            logger.info("looked for overdue nights")
        except Exception:
            logger.exception("overdue nights could not be looked for")
        finally:
            connections.close_all()  # none is kept over a restart of the database
        if ended.wait(every):
            return
