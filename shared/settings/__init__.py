"""A club's own service. The demo and the tests change a few lines of it."""

from shared.settings.base import *  # noqa: F403
