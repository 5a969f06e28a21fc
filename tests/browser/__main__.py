"""Act on the club's database from a process of its own.

python -m tests.browser fill    make the club; print, as JSON, what the tests must know of it
python -m tests.browser ask     ask for some nights; print the number of the job
python -m tests.browser work    do every job that waits, as a worker would
"""

import json
import sys

import django

from tests.browser import clock

clock.hold()
django.setup()

from tests.browser import club  # noqa: E402

DEEDS = {"fill": club.fill, "ask": club.ask, "work": club.work}
print(json.dumps(DEEDS[sys.argv[1]]()))
