"""Choosing a look: it is kept in a cookie, so it needs neither an account nor a script."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from trips.looks import COOKIE, LOOKS

A_YEAR_SECONDS = 365 * 24 * 3600


@require_POST
def look(request: HttpRequest) -> HttpResponse:
    response = HttpResponseRedirect(_back(request))
    chosen = request.POST.get("look", "")
    if chosen and chosen in LOOKS:
        response.set_cookie(
            COOKIE,
            chosen,
            max_age=A_YEAR_SECONDS,
            secure=request.is_secure(),
            httponly=True,
            samesite="Lax",
        )
    else:
        response.delete_cookie(COOKIE)
    return response


def _back(request: HttpRequest) -> str:
    """Give the page that the choice was made on, if it is one of ours."""
    address = request.POST.get("next", "")
    ours = url_has_allowed_host_and_scheme(address, allowed_hosts=None)
    return address if ours and address.startswith("/") else reverse("home")
