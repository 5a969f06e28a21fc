"""Letters: asked for in the transaction of the deed they tell of, sent by a sweep, each once.

A worker that dies between handing a letter over and writing so leaves it to another one: then it
goes twice rather than never, with the same Message-ID.
"""

from __future__ import annotations

import logging
import uuid
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime, timedelta
from email.mime.image import MIMEImage

from django.conf import settings
from django.core.mail import EmailMessage, EmailMultiAlternatives, get_connection
from django.core.mail.backends.base import BaseEmailBackend

from trips.models import Enrolment, Letter, Trip, TripInstructor, TripNight
from trips.services.letter_kinds.post import Post
from trips.services.letter_kinds.written import Enclosed, Written
from trips.services.letter_words import LETTERS

logger = logging.getLogger(__name__)

Clock = Callable[[], datetime]

LONGEST_SWEEP = timedelta(minutes=1)  # then other work has its turn, however slow a server is
LEASE = timedelta(minutes=5)  # longer than a mail server may take
LONGEST_SUBJECT = 200
NO_LEASE = {"lease_owner": None, "lease_expires_at": None}


def queue(
    kind: str,
    *,
    key: str,
    trip: Trip,
    due_at: datetime,
    night: TripNight | None = None,
    enrolment: Enrolment | None = None,
    instructor: TripInstructor | None = None,
) -> Letter:
    """Let a letter go out once its hour has come; asked for twice by one key, it is one letter.

    One that was dropped did not go: asked for again, it waits again.
    """
    if kind not in LETTERS:
        raise KeyError(f"no letter is called {kind}")
    about = {"night": night, "enrolment": enrolment, "instructor": instructor}
    letter: Letter
    letter, _is_new = Letter.objects.get_or_create(
        key=key, defaults={"kind": kind, "trip": trip, "due_at": due_at, **about}
    )
    if letter.state == Letter.State.DROPPED:
        _wait_again(letter, due_at=due_at)
    return letter


def try_again(letter: Letter, *, now: datetime) -> None:
    """Send a letter that was given up, from the first attempt on."""
    if letter.state == Letter.State.FAILED:
        _wait_again(letter, due_at=now, attempts=0, error="")


def _wait_again(letter: Letter, **fields: object) -> None:
    """Queue a letter that came to an end, unless somebody has done so meanwhile."""
    as_read = Letter.objects.filter(pk=letter.pk, state=letter.state)
    as_read.update(state=Letter.State.QUEUED, **fields)


def send_due(post: Post, *, clock: Clock) -> int:
    """Send what is due of such post, the oldest first, for a while; give how many went out."""
    kinds = [name for name, kind in LETTERS.items() if kind.post is post]
    due = list(Letter.objects.claimable(kinds, at=clock()).values_list("pk", flat=True))
    if not due:
        return 0
    sent, until = 0, clock() + LONGEST_SWEEP
    connection = get_connection()
    try:
        for key in due:
            if clock() >= until:
                break
            letter = _claim(key, now=clock())
            if letter is not None:
                sent += _send(letter, connection, clock)
    finally:
        with suppress(OSError):  # a server that goes away with the last word took every letter
            connection.close()
    return sent


def _claim(key: int, *, now: datetime) -> Letter | None:
    """Take the letter in hand, or give None where another worker has it."""
    owner = uuid.uuid4()
    taken = Letter.objects.claimable(LETTERS, at=now).filter(pk=key)
    sending = {"state": Letter.State.SENDING, "lease_owner": owner, "lease_expires_at": now + LEASE}
    if taken.update(**sending) != 1:
        return None
    about = ("trip__organisation", "night", "enrolment__person", "instructor__user")
    claimed: Letter | None = (
        Letter.objects.select_related(*about).filter(pk=key, lease_owner=owner).first()
    )
    return claimed


def _send(letter: Letter, connection: BaseEmailBackend, clock: Clock) -> bool:
    try:
        kind = LETTERS[letter.kind]
        written = None if kind.is_over(letter, at=clock()) else kind.write(letter)
        if written is None:
            _end(letter, state=Letter.State.DROPPED)
            return False
        connection.open()
        connection.send_messages([_message(letter, written)])
    except Exception as error:  # one letter that cannot be sent keeps no other one back
        # Its text may hold an address; the row is deleted with the person, a log is not.
        logger.warning("letter %s was not sent: %s", letter.uid, type(error).__name__)
        with suppress(OSError):
            connection.close()
        _refused(letter, error, now=clock())
        return False
    _end(letter, state=Letter.State.SENT, sent_at=clock(), error="")
    return True


def _message(letter: Letter, written: Written) -> EmailMessage:
    # Of a name only its words may stand in a header: a line break would begin another one.
    subject = " ".join(written.subject.split())[:LONGEST_SUBJECT]
    host = settings.DEFAULT_FROM_EMAIL.rpartition("@")[2].rstrip(">")
    headers = {"Message-ID": f"<{letter.uid}@{host}>", "Auto-Submitted": "auto-generated"}
    message = EmailMultiAlternatives(subject, written.text, to=[written.to], headers=headers)
    if written.html:
        message.attach_alternative(written.html, "text/html")
    for picture in written.pictures:
        message.attach(_inline(picture))
        message.mixed_subtype = "related"  # RFC 2387: the text, and what it shows
    for file in written.files:
        message.attach(file.name, file.content, file.kind)
    return message


def _inline(picture: Enclosed) -> MIMEImage:
    part = MIMEImage(picture.content, picture.kind.partition("/")[2])
    part["Content-ID"] = f"<{picture.name}>"
    part.add_header("Content-Disposition", "inline", filename=f"{picture.name}.png")
    return part


def _refused(letter: Letter, error: Exception, *, now: datetime) -> None:
    """Wait and try again, as its kind is; at last leave it to people."""
    said = f"{type(error).__name__}: {error}"[:300]
    attempts = letter.attempts + 1
    wait = LETTERS[letter.kind].post.wait_after(attempts)
    if wait is None:
        _end(letter, state=Letter.State.FAILED, attempts=attempts, error=said)
        return
    again = now + wait
    _end(letter, state=Letter.State.QUEUED, attempts=attempts, error=said, due_at=again)


def _end(letter: Letter, **fields: object) -> None:
    """Put the letter down, unless another worker has taken it over meanwhile."""
    mine = Letter.objects.filter(pk=letter.pk, lease_owner=letter.lease_owner)
    mine.update(**NO_LEASE, **fields)
