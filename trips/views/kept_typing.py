"""What was typed when a session had ended: carried through the sign-in, sent again on demand."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from trips.forms.sign_in import SignInForm

View = Callable[..., HttpResponse]


def typing_kept(view: View) -> View:
    """Ask for the sign-in as `login_required` does, without losing a form that was sent."""
    asking = login_required(view)

    @wraps(view)
    def answer(request: HttpRequest, *args: Any, **options: Any) -> HttpResponse:
        if request.user.is_authenticated or not request.POST:
            return asking(request, *args, **options)
        kept = request.POST.copy()
        kept.pop("csrfmiddlewaretoken", None)
        context = {"form": SignInForm(request), "next": request.path, "typed": kept.urlencode()}
        return render(request, "trips/sign_in.html", context)

    return answer


def offered_again(request: HttpRequest, address: str) -> HttpResponse | None:
    """Give the page with what was typed before the sign-in; None where nothing was.

    It is not sent by itself: the person presses the button, and knows what happens.
    """
    typed = QueryDict(request.POST.get("typed", ""))
    if not typed or not address:
        return None
    fields = [(name, value) for name, values in typed.lists() for value in values]
    return render(request, "trips/typed_again.html", {"address": address, "fields": fields})
