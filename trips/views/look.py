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
    chosen = request.POST.get("look", "")
    return keep_look(HttpResponseRedirect(_back(request)), chosen, secure=request.is_secure())


def keep_look(response: HttpResponse, look: str, *, secure: bool) -> HttpResponse:
    """Keep the look in a cookie; one that does not exist is as the device has it."""
    if look and look in LOOKS:
        response.set_cookie(
            COOKIE, look, max_age=A_YEAR_SECONDS, secure=secure, httponly=True, samesite="Lax"
        )
    else:
        response.delete_cookie(COOKIE)
    return response


def _back(request: HttpRequest) -> str:
    """Give the page that the choice was made on, if it is one of ours."""
    address = request.POST.get("next", "")
    ours = url_has_allowed_host_and_scheme(address, allowed_hosts=None)
    return address if ours and address.startswith("/") else reverse("home")
