"""The demo on this machine alone: loopback hosts, no TLS, a sign-in link on the terminal."""

from shared.settings.base import *  # noqa: F403
from shared.settings.base import INSTALLED_APPS as _BASE_APPS
from shared.settings.environment import LOOPBACK_HOSTS

INSTALLED_APPS = [*_BASE_APPS, "demo"]
ALLOWED_HOSTS = list(LOOPBACK_HOSTS)
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = False
SECURE_HSTS_SECONDS = 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = False

# Nothing is collected first: files are served from where they lie.
WHITENOISE_USE_FINDERS = True
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}

# Letters are files, whatever mail server the environment names: the people are invented.
EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
