"""The address of a page with some of its questions changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.http import urlencode


@dataclass(frozen=True, slots=True)
class PageAddress:
    """A path and what is asked of it; None and "" are left out."""

    path: str
    asked: Mapping[str, Any]

    def with_(self, **changed: Any) -> str:
        asked = {key: value for key, value in {**self.asked, **changed}.items() if value}
        return f"{self.path}?{urlencode(asked, doseq=True)}" if asked else self.path
