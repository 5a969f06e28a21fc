"""Signing in and out."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.views import LoginView, LogoutView
from django.http import HttpResponse

from trips.forms.sign_in import SignInForm
from trips.views.kept_typing import offered_again


class SignIn(LoginView):
    form_class = SignInForm
    template_name = "trips/sign_in.html"
    redirect_authenticated_user = True

    def get_context_data(self, **options: Any) -> dict[str, Any]:
        context = super().get_context_data(**options)
        return context | {"typed": self.request.POST.get("typed", "")}

    def form_valid(self, form: Any) -> HttpResponse:
        answer = super().form_valid(form)
        return offered_again(self.request, self.get_redirect_url()) or answer


class SignOut(LogoutView):
    """By POST only: a link on another page must not sign anybody out."""

    http_method_names = ["post", "options"]
