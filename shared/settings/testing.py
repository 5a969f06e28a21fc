"""The tests: a data folder that goes away, quick passwords, nothing that leaves the machine."""

import atexit
import os
import shutil
import tempfile

_folder = tempfile.mkdtemp(prefix="fieldnights-tests-")
atexit.register(shutil.rmtree, _folder, ignore_errors=True)
os.environ["FIELDNIGHTS_DATA"] = _folder  # before the settings read it

from shared.settings.base import *  # noqa: E402, F403
from shared.settings.base import INSTALLED_APPS as _BASE_APPS  # noqa: E402

INSTALLED_APPS = [*_BASE_APPS, "demo"]
ALLOWED_HOSTS = ["testserver", "localhost", "127.0.0.1"]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
LOGGING = {}  # pytest shows what was logged, where a test fails
WHITENOISE_AUTOREFRESH = True  # or it warns of a folder of collected files that no test needs
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.InMemoryStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
# Messages stay in this process; no worker reads them. Kill tests start workers with real brokers.
CELERY_BROKER_URL = "memory://"
CELERY_BROKER_TRANSPORT_OPTIONS = {}
