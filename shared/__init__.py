"""Wiring: settings, addresses, Celery, WSGI. Nothing imports it but the processes it starts."""

# Every process that loads the settings must post to the same broker.
from shared.celery import app as celery_app

__all__ = ["celery_app"]
