"""The one place that reads the environment. Each name is described in the README."""

from __future__ import annotations

import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from django.core.exceptions import ImproperlyConfigured

LOOPBACK_HOSTS = ("localhost", "127.0.0.1", "[::1]")
_YES, _NO = {"1", "true", "yes", "on"}, {"0", "false", "no", "off"}


@dataclass(frozen=True, slots=True)
class Environment:
    data: Path
    hosts: list[str]
    https: bool
    behind_proxy: bool
    database_url: str
    broker_url: str
    lease_seconds: int
    address: str
    smtp_url: str
    mail_from: str


def read_environment(values: Mapping[str, str] = os.environ) -> Environment:
    hosts = _words(values.get("FIELDNIGHTS_HOSTS", ",".join(LOOPBACK_HOSTS)))
    data = Path(values.get("FIELDNIGHTS_DATA", ".data")).absolute()
    # Cookies may travel in the clear only where nobody else can hear them.
    only_loopback = set(hosts) <= set(LOOPBACK_HOSTS)
    return Environment(
        data=_private_folder(data),
        hosts=hosts,
        https=_flag(values, "FIELDNIGHTS_HTTPS", default=not only_loopback),
        behind_proxy=_flag(values, "FIELDNIGHTS_BEHIND_PROXY", default=False),
        database_url=values.get("DATABASE_URL", f"sqlite:///{data / 'fieldnights.sqlite3'}"),
        broker_url=values.get("FIELDNIGHTS_BROKER_URL", "filesystem://"),
        lease_seconds=_positive(values, "FIELDNIGHTS_LEASE_SECONDS", default=30),
        address=_address(values.get("FIELDNIGHTS_ADDRESS") or "http://127.0.0.1:8000"),
        smtp_url=values.get("FIELDNIGHTS_SMTP_URL", ""),
        mail_from=values.get("FIELDNIGHTS_MAIL_FROM") or "Fieldnights <fieldnights@localhost>",
    )


def kept_key(folder: Path, name: str) -> str:
    """Give the key kept in that file; make it the first time, readable by its owner alone."""
    path = folder / name
    if not path.exists():
        _make_key(path)
    return path.read_text("ascii").strip()


def _make_key(path: Path) -> None:
    # Written aside and linked into place: of two processes that start together, one wins.
    aside = path.with_name(f".{path.name}.{secrets.token_hex(8)}")
    with os.fdopen(os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
        file.write(secrets.token_urlsafe(50))
    try:
        os.link(aside, path)
    except FileExistsError:
        pass
    finally:
        aside.unlink()


def _private_folder(path: Path) -> Path:
    try:
        path.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise ImproperlyConfigured(
            f"FIELDNIGHTS_DATA names {path}, which cannot be made: {error.strerror}. "
            "Name a folder that you may write to."
        ) from error
    return path


def _address(text: str) -> str:
    parts = urlsplit(text)
    if parts.scheme not in ("http", "https") or not parts.hostname or parts.query or parts.fragment:
        raise ImproperlyConfigured(
            f"FIELDNIGHTS_ADDRESS is “{text}”; write where people reach the pages, like "
            "https://nights.example.org."
        )
    return text.rstrip("/")


def _words(text: str) -> list[str]:
    return [word.strip() for word in text.split(",") if word.strip()]


def _flag(values: Mapping[str, str], name: str, *, default: bool) -> bool:
    given = values.get(name, "").strip().lower()
    if given not in _YES | _NO | {""}:
        raise ImproperlyConfigured(f"{name} is “{given}”; write 1 or 0.")
    return default if given == "" else given in _YES


def _positive(values: Mapping[str, str], name: str, *, default: int) -> int:
    given = values.get(name, str(default))
    if not given.isdecimal() or int(given) < 1:
        raise ImproperlyConfigured(f"{name} is “{given}”; write a whole number above 0.")
    return int(given)
