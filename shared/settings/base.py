"""Settings that every way of running shares."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import dj_database_url
from django.utils.translation import gettext_lazy as _

from shared.settings.environment import kept_key, read_environment
from shared.settings.mail_server import read_mail_server
from shared.settings.masking import mask_every_record

BASE_DIR = Path(__file__).resolve().parents[2]
ENVIRONMENT = read_environment()
DATA_FOLDER = ENVIRONMENT.data

mask_every_record()

DEBUG = False
ALLOWED_HOSTS = ENVIRONMENT.hosts
SECRET_KEY = kept_key(DATA_FOLDER, "secret-key")
# Signs links that are handed round. Not the secret key: that one may be changed at any time.
LINK_KEY = kept_key(DATA_FOLDER, "link-key")

INSTALLED_APPS = [
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "axes",
    "trips",
]
MIDDLEWARE = [
    "trips.middleware.PrivateLinkMiddleware",  # first: it has the last word
    "django.middleware.security.SecurityMiddleware",
    # Pages shrink to a sixth. Their lengths tell nothing of the tokens in them: those are masked
    # anew in each answer, and the middleware pads at random.
    "django.middleware.gzip.GZipMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "trips.middleware.ContentSecurityPolicyMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "axes.middleware.AxesMiddleware",  # last: it answers for a refused sign-in
]
ROOT_URLCONF = "shared.urls"
WSGI_APPLICATION = "shared.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "trips.looks.looks",
            ],
        },
    },
]

# Where sky keeps its tables of Sun and Moon; it can be deleted at any time.
os.environ.setdefault("SKY_CACHE", str(DATA_FOLDER / "sky"))

# Rows.
DATABASES: dict[str, dict[str, Any]] = {
    "default": dict(dj_database_url.parse(ENVIRONMENT.database_url, conn_max_age=60))
}
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    # Readers go on while one writes, and writers wait their turn instead of failing half way. What
    # is deleted is overwritten: people were promised that nothing is left of them.
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; "
        "PRAGMA secure_delete=ON;",
    }
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

# People.
AUTH_USER_MODEL = "trips.User"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",  # first: it refuses before a password is looked at
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
    )
]
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign_in"
# What the sign-in form calls it; by default axes looks for "email", finds None, and locks nobody.
AXES_USERNAME_FORM_FIELD = "username"
AXES_LOCKOUT_TEMPLATE = "trips/sign_in_locked.html"
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = 0.25  # hours
# Of one account from one address: a stranger cannot lock a member out from elsewhere.
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
AXES_VERBOSE = False

# Doors.
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = ENVIRONMENT.https
SECURE_HSTS_SECONDS = 31_536_000 if ENVIRONMENT.https else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = ENVIRONMENT.https
BEHIND_PROXY = ENVIRONMENT.behind_proxy
# What one address may try is counted here, in each process by itself.
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "OPTIONS": {"MAX_ENTRIES": 20_000},
    }
}
if BEHIND_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

# Words and files.
LANGUAGE_CODE = "en"
LANGUAGES = [("en", _("English"))]
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"
STATIC_URL = "static/"
STATIC_ROOT = DATA_FOLDER / "static"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}

# Letters: to a mail server, or as files into the data folder where none is named.
FIELDNIGHTS_ADDRESS = ENVIRONMENT.address
DEFAULT_FROM_EMAIL = SERVER_EMAIL = ENVIRONMENT.mail_from
EMAIL_FILE_PATH = str(DATA_FOLDER / "mail")
MAIL_SERVER = read_mail_server(ENVIRONMENT.smtp_url)
EMAIL_BACKEND = f"django.core.mail.backends.{'smtp' if MAIL_SERVER else 'filebased'}.EmailBackend"
if MAIL_SERVER:
    EMAIL_HOST, EMAIL_PORT = MAIL_SERVER.host, MAIL_SERVER.port
    EMAIL_HOST_USER, EMAIL_HOST_PASSWORD = MAIL_SERVER.user, MAIL_SERVER.password
    EMAIL_USE_SSL, EMAIL_USE_TLS = MAIL_SERVER.is_tls, MAIL_SERVER.is_starttls
# Of each word of the server's: with all that one letter needs still within its lease.
EMAIL_TIMEOUT = 20

# Logs: to the terminal, each line with its hour; a page that broke says why. A worker has its own.
LOGGING: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "%(asctime)s %(levelname)s %(name)s: %(message)s"}},
    "handlers": {"terminal": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["terminal"], "level": "WARNING"},
    "loggers": {"django": {"handlers": [], "level": "WARNING"}},
}

# Jobs. The row is the truth, the message may be lost: see trips/services/jobs.py.
JOB_LEASE_SECONDS = ENVIRONMENT.lease_seconds
JOB_SWEEP_SECONDS = 5
JOB_MESSAGE_SECONDS = 10  # then a sweep posts the job again
CELERY_BROKER_URL = ENVIRONMENT.broker_url
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_TASK_SERIALIZER = "json"
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_TASK_IGNORE_RESULT = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_WORKER_ENABLE_REMOTE_CONTROL = False
CELERY_TIMEZONE = "UTC"
CELERY_BEAT_SCHEDULE_FILENAME = str(DATA_FOLDER / "beat-schedule")
CELERY_BEAT_SCHEDULE = {  # but for call-outs, which wait for no message: shared/call_out_watch.py
    "every-five-seconds-sweep-jobs": {
        "task": "trips.sweep_jobs",
        "schedule": JOB_SWEEP_SECONDS,
        "options": {"expires": JOB_SWEEP_SECONDS},  # sweeps do not pile up while no worker runs
    },
    "every-five-seconds-send-letters": {
        "task": "trips.send_letters",
        "schedule": 5,
        "options": {"expires": 5},
    },
    "every-five-seconds-make-plans": {
        "task": "trips.make_plans",
        "schedule": 5,
        "options": {"expires": 5},
    },
    "every-hour-forget": {
        "task": "trips.forget",
        "schedule": 3600,
        "options": {"expires": 3600},
    },
    "every-hour-remind": {
        "task": "trips.remind",
        "schedule": 3600,
        "options": {"expires": 3600},
    },
    "every-minute-sweep-places": {
        "task": "trips.sweep_places",
        "schedule": 60,
        "options": {"expires": 60},
    },
}
CELERY_BROKER_TRANSPORT_OPTIONS: dict[str, Any] = {}
if CELERY_BROKER_URL.startswith("filesystem:"):
    _messages = DATA_FOLDER / "messages"
    _messages.mkdir(mode=0o700, exist_ok=True)
    CELERY_BROKER_TRANSPORT_OPTIONS = {
        "data_folder_in": str(_messages),
        "data_folder_out": str(_messages),  # one folder: what is posted is what is read
        "control_folder": str(_messages / "control"),
        "polling_interval": 0.1,
    }
