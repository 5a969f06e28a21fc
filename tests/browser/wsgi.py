"""The pages as a club serves them, on the day that never ends."""

import logging

from tests.browser import clock

clock.hold()
logging.basicConfig(level=logging.WARNING)  # a page that broke says why in the server's log

from shared.wsgi import application  # noqa: E402

__all__ = ["application"]
