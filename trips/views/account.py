"""Signing in and out."""

from __future__ import annotations

from django.contrib.auth.views import LoginView, LogoutView

from trips.forms import SignInForm


class SignIn(LoginView):
    form_class = SignInForm
    template_name = "trips/sign_in.html"
    redirect_authenticated_user = True


class SignOut(LogoutView):
    """By POST only: a link on another page must not sign anybody out."""

    http_method_names = ["post", "options"]
