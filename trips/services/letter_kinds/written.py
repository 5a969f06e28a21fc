"""A letter in words, and how an address of the service is written into one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from django.conf import settings
from django.urls import reverse

from trips.models import Letter


@dataclass(frozen=True, slots=True)
class Written:
    """Plain text; the subject is put on one line when it is sent."""

    to: str
    subject: str
    text: str


Builder = Callable[[Letter], Written | None]


def address(name: str, *args: object) -> str:
    """Give the whole address of a page, as it must stand in a letter."""
    return f"{settings.FIELDNIGHTS_ADDRESS}{reverse(name, args=args)}"


def paragraphs(*parts: str) -> str:
    """Join what is said, with a line between; what is empty is left out."""
    return "\n\n".join(part for part in parts if part) + "\n"
