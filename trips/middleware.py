"""What every answer says to the browser about itself."""

from __future__ import annotations

import re
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

# Everything comes from here, nothing is inline, and nobody may frame the pages.
POLICY = "; ".join(
    [
        "default-src 'self'",
        "img-src 'self' data:",  # the style sheet under ours carries its arrows and marks with it
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "object-src 'none'",
    ]
)


# Addresses that let in whoever knows them (`views/link_doors.py`).
PRIVATE = re.compile(r"/(?:b|c|h|j|join)/")
QUIET = {
    "Referrer-Policy": "no-referrer",
    "X-Robots-Tag": "noindex, nofollow",
    "Cache-Control": "private, no-cache",  # a page gone back to keeps what was typed
}


class PrivateLinkMiddleware:
    """Keeps an address that is a secret quiet in every answer under it, whoever gives it: pages
    that are not there or broke, refused methods, redirects. Outermost, and over what others say."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if PRIVATE.match(request.path_info):
            for name, value in QUIET.items():
                response.headers[name] = value
        return response


class ContentSecurityPolicyMiddleware:
    """Puts the policy on every answer, error pages included."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers["Content-Security-Policy"] = POLICY
        # An address can hold the position of a site: other servers are told nothing. The same
        # origin is told, because Django's CSRF check over HTTPS reads it.
        response.headers.setdefault("Referrer-Policy", "same-origin")
        response.headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()"
        return response
