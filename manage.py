#!/usr/bin/env python
"""The door for commands: `manage.py demo`, `manage.py nights`, and Django's own."""

import os
import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line


def settings_for(arguments: list[str]) -> str:
    """The demo has settings of its own; everything else is the club's."""
    of_the_demo = arguments[1:2] in (["demo"], ["pictures"])
    return "shared.settings.demo" if of_the_demo else "shared.settings"


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", settings_for(sys.argv))
    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as mistake:
        sys.exit(f"{mistake}")
