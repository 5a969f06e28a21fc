"""A club's own service. The demo and the tests change a few lines of it."""

import os

# Python runs this file on the way to `shared.settings.testing` too, which must be able to name
# its own data folder before the settings read the environment.
if os.environ.get("DJANGO_SETTINGS_MODULE", "shared.settings") == "shared.settings":
    from shared.settings.base import *  # noqa: F403
