"""The look of the pages: paper, evening, night, grey, or what the device prefers. In a cookie."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

COOKIE = "look"
# "" follows the device.
LOOKS = {
    "": _("as the device"),
    "paper": _("paper"),
    "evening": _("evening"),
    "night": _("night, red only"),
    "grey": _("night, dim grey"),
}


def looks(request: HttpRequest) -> dict[str, Any]:
    """Give every template the look that was chosen and those there are."""
    chosen = request.COOKIES.get(COOKIE, "")
    return {"look": chosen if chosen in LOOKS else "", "looks": LOOKS.items()}
