"""A worker deletes what is due before it takes anything in hand: a backup may have been put back,
and must not write to people whom we promised to have deleted by now."""

from __future__ import annotations

import logging
from typing import Any

from celery import bootsteps
from django.db import connections

logger = logging.getLogger(__name__)

TASK = "trips.forget"


class ForgetFirst(bootsteps.Step):
    """Steps are made before any of them starts, and before processes are forked."""

    def create(self, worker: Any) -> None:
        try:
            worker.app.tasks[TASK]()
        except Exception:  # nights must be watched all the same; it is tried again within the hour
            logger.exception("what is due could not be deleted")
        finally:
            connections.close_all()
