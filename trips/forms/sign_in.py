"""The form at the door."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.http import HttpRequest
from django.utils.translation import gettext_lazy


class SignInForm(AuthenticationForm):
    username = forms.EmailField(
        label=gettext_lazy("E-mail"),
        widget=forms.EmailInput(attrs={"autofocus": True, "autocomplete": "username"}),
    )

    error_messages = AuthenticationForm.error_messages | {
        "invalid_login": gettext_lazy(
            "That e-mail and that password do not go together. Capitals count in the password."
        ),
    }

    def __init__(self, request: HttpRequest | None = None, **options: Any) -> None:
        super().__init__(request, **options)
        self.fields["password"].label = gettext_lazy("Password")

    def clean_username(self) -> str:
        # One spelling, or each way of writing capitals would have its own count of guesses.
        return str(self.cleaned_data["username"]).lower()
