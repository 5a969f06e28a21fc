"""The Celery application: wiring only. Its settings are Django's, with the prefix CELERY_."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")

app = Celery("fieldnights")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
