"""The person who signs in, by e-mail."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.models import AbstractUser, UserManager
from django.db import models
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _


class EmailUserManager(UserManager["User"]):
    """Makes users by e-mail; there is no user name."""

    def get_by_natural_key(self, username: str | None) -> User:
        return self.get(email__iexact=username)

    def create_user(  # type: ignore[override]
        self, email: str, password: str | None = None, **fields: Any
    ) -> User:
        user = self.model(email=self.normalize_email(email), **fields)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def create_superuser(  # type: ignore[override]
        self, email: str, password: str | None = None, **fields: Any
    ) -> User:
        return self.create_user(email, password, is_staff=True, is_superuser=True, **fields)


class User(AbstractUser):
    username = None  # type: ignore[assignment]
    email = models.EmailField(_("e-mail"), unique=True)

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS = []

    objects = EmailUserManager()  # type: ignore[misc]

    class Meta:
        constraints = [
            # Two accounts may not differ by capitals alone.
            models.UniqueConstraint(Lower("email"), name="user_email_unique_without_case"),
        ]

    def __str__(self) -> str:
        return self.email

    @property
    def called(self) -> str:
        """Give the name that others know; the mail address where there is none."""
        return self.get_full_name() or self.email
