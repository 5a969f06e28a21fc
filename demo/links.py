"""Single-use sign-in links of the demo: a file for each, gone when used."""

from __future__ import annotations

import hashlib
import json
import secrets
from datetime import datetime, timedelta
from pathlib import Path

from trips.models import User

LIFETIME = timedelta(minutes=10)


def make_link_token(user: User, folder: Path, *, now: datetime) -> str:
    """Keep the token's digest with the user and the last moment; give the token."""
    token = secrets.token_urlsafe(32)
    kept = {"user": user.pk, "until": (now + LIFETIME).timestamp()}
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    _file(folder, token).write_text(json.dumps(kept), "utf-8")
    return token


def use_link_token(token: str, folder: Path, *, now: datetime) -> User | None:
    """Give the user once; None for a token that is unknown, used or too old."""
    path = _file(folder, token)
    try:
        kept = json.loads(path.read_text("utf-8"))
        path.unlink()  # of two that come together, one finds nothing left to remove
    except FileNotFoundError:
        return None
    if now.timestamp() > kept["until"]:
        return None
    return User.objects.filter(pk=kept["user"], is_active=True).first()


def forget_link_tokens(folder: Path) -> None:
    """Make the links of earlier starts useless."""
    for path in folder.glob("*.json"):
        path.unlink(missing_ok=True)


def _file(folder: Path, token: str) -> Path:
    return folder / f"{hashlib.sha256(token.encode()).hexdigest()}.json"
