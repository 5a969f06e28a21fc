"""A worker's part: takes a job, does what its kind asks for, and says in its row how it ended."""

from __future__ import annotations

import logging
import uuid
from collections.abc import Callable
from datetime import datetime

from django.utils.translation import gettext as _

from trips.almanac.wording import SkyError, sentence
from trips.models import Job, User
from trips.services import jobs, nights, target_windows

logger = logging.getLogger(__name__)

Clock = Callable[[], datetime]

# What each kind of job does; it raises what `jobs` and `nights` name, and returns when all is done.
DEEDS: dict[str, Callable[[jobs.Claim, Clock], None]] = {
    Job.Kind.SITE_NIGHTS: nights.compute,
    Job.Kind.TARGET_WINDOWS: target_windows.compute,
}


def run(uid: uuid.UUID, *, clock: Clock) -> None:
    """Work on the job if it can be claimed."""
    claim = jobs.claim(uid, now=clock())
    if claim is None:
        return
    try:
        DEEDS[claim.job.kind](claim, clock)
        jobs.finish(claim, now=clock())
    except jobs.ClaimLostError:
        logger.info("job %s went to another worker", uid)
    except jobs.StopRequestedError:
        jobs.stop(claim, now=clock())
    except jobs.EditedSinceError:
        jobs.stop(claim, now=clock(), why=_("The site was edited; a newer job computes it."))
    except SkyError as error:
        # The same input is refused each time.
        jobs.fail(claim, sentence(error), now=clock(), final=True)
    except Exception as error:
        logger.exception("job %s failed", uid)
        jobs.fail(claim, _broke_off(uid, error), now=clock())


def ask_again(job: Job, *, by: User | None, now: datetime) -> Job:
    """Ask for the same work anew, from the site as it is now."""
    ask = target_windows.ask if job.kind == Job.Kind.TARGET_WINDOWS else nights.ask
    return ask(job.site, job.first_night, job.last_night, by=by, now=now)


def _broke_off(uid: uuid.UUID, error: Exception) -> str:
    words = _("The computation broke off (%(error)s). The worker's log says more: job %(uid)s.")
    return words % {"error": f"{type(error).__name__}: {error}", "uid": uid}
