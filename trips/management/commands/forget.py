"""`manage.py forget`: the deletions that are due, now; first of all after a backup was put back."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone
from django.utils.translation import gettext as _

from trips.services.forgetting import forget_due


class Command(BaseCommand):
    help = (
        "Delete what is kept of people longer than their trips say. The service does so each hour "
        "and whenever it starts. Example: manage.py forget"
    )

    def handle(self, *_arguments: Any, **_options: Any) -> None:
        gone = forget_due(now=timezone.now())
        words = _("Deleted: %(enrolments)d places and requests, %(people)d people.")
        self.stdout.write(words % {"enrolments": gone.enrolments, "people": gone.people})
