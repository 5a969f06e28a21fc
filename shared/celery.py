"""The Celery application: wiring only. Its settings are Django's, with the prefix CELERY_."""

import os

from celery import Celery
from kombu.transport import TRANSPORT_ALIASES

from shared.call_out_watch import CallOutWatch
from shared.forget_first import ForgetFirst

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")

TRANSPORT_ALIASES["filesystem"] = "shared.message_folder:Transport"

app = Celery("fieldnights")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
app.steps["worker"].update((ForgetFirst, CallOutWatch))
