"""Sign in by the link on the terminal: a page with one button, and what the button does."""

from __future__ import annotations

from ipaddress import ip_address

from django.conf import settings
from django.contrib.auth import login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from demo.links import use_link_token

BACKEND = "django.contrib.auth.backends.ModelBackend"


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest, token: str) -> HttpResponse:
    """Show the button; only pressing it uses the link up, so that a preview does not."""
    _refuse_other_machines(request)
    if request.method != "POST":
        return render(request, "demo/sign_in.html")
    user = use_link_token(token, settings.DATA_FOLDER / "sign-in", now=timezone.now())
    if user is None:
        return render(request, "demo/sign_in_refused.html", status=410)
    login(request, user, backend=BACKEND)
    return redirect("home")


def _refuse_other_machines(request: HttpRequest) -> None:
    if not ip_address(request.META.get("REMOTE_ADDR") or "0.0.0.0").is_loopback:  # noqa: S104
        raise PermissionDenied(_("This link works on the machine that runs the demo."))
