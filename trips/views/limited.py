"""Who asks, as far as it can be known, and the answer to who asks too often."""

from __future__ import annotations

from ipaddress import IPv6Address, ip_address, ip_network

from django.conf import settings
from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from trips.services.limits import Limit

UNKNOWN = "unknown"
# Whoever has one address of the sixth version has all that begin with these bits.
SIXTH_BITS = 64


class TooOftenError(BadRequest):
    """More than the limit; `too_often` answers."""

    def __init__(self, limit: Limit) -> None:
        super().__init__(limit.name)
        self.limit = limit


def client_of(request: HttpRequest) -> str:
    """Give the address that asks. What a client writes of itself is believed from a proxy alone:
    the last entry is the one that the proxy added."""
    given = str(request.META.get("REMOTE_ADDR", ""))
    if settings.BEHIND_PROXY:
        given = str(request.META.get("HTTP_X_FORWARDED_FOR", given)).rpartition(",")[2]
    return _network(given.strip())


def refuse_crowd(request: HttpRequest, limit: Limit) -> None:
    """Count one more; errors: `TooOftenError`."""
    if limit.count(client_of(request)) > limit.most:
        raise TooOftenError(limit)


def too_often(request: HttpRequest, limit: Limit) -> HttpResponse:
    context = {"minutes": -(-limit.seconds // 60)}
    response = render(request, "429.html", context, status=429)
    response.headers["Retry-After"] = str(limit.seconds)
    return response


def _network(given: str) -> str:
    try:
        found = ip_address(given)
    except ValueError:
        return UNKNOWN
    if isinstance(found, IPv6Address):
        mapped = found.ipv4_mapped
        return str(mapped or ip_network((int(found) >> SIXTH_BITS << SIXTH_BITS, SIXTH_BITS)))
    return str(found)
