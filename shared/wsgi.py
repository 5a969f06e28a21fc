"""The WSGI application that a server imports."""

import gc
import os
from importlib import import_module

from django.core.wsgi import get_wsgi_application
from django.urls import get_resolver
from django.utils import timezone

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")

application = get_wsgi_application()

# A backup that was put back may hold people whom we promised to have deleted by now: they go before
# anybody is answered.
import_module("trips.services.forgetting").forget_due(now=timezone.now())

# The addresses, and with them the modules of every page, before the first reader comes; and what
# lies among the stars, which takes most of a second to read.
_ = get_resolver().url_patterns
import_module("trips.almanac.targets").read_catalogues()

# What is loaded by now stays: the collector need not look at it again and again while a page makes
# its thousands of nights, which go away by themselves. A tenth of a season page's time.
gc.collect()
gc.freeze()
gc.set_threshold(100_000, 20, 20)
