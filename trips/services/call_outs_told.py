"""What is said of overdue nights whose letters do not go: nobody must wait for one then."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.models import Letter, TripNight
from trips.services.letter_kinds.call_outs import CONTACT, INSTRUCTOR

State = Letter.State
SOON = timedelta(minutes=2)  # by then a worker that runs has sent the first one


def letters_in_trouble(overdue: Sequence[TripNight], *, now: datetime) -> dict[int, str]:
    """Give a sentence by the id of each of these nights whose letters do not go. One query."""
    if not overdue:
        return {}
    asked_for = list(Letter.objects.filter(night__in=overdue, kind__in=(INSTRUCTOR, CONTACT)))
    told = {
        night.pk: _trouble(night, [one for one in asked_for if one.night_id == night.pk], now)
        for night in overdue
    }
    return {night: words for night, words in told.items() if words}


def _trouble(night: TripNight, asked_for: Iterable[Letter], now: datetime) -> str:
    letters = [one for one in asked_for if one.state != State.DROPPED]
    if not any(one.state == State.SENT for one in letters) and now >= night.call_out_at + SOON:
        return _(
            "No letter has gone out: wait for none. Call the others who lead, and whoever waits at "
            "home."
        )
    refused = sum(one.attempts > 0 and one.state != State.SENT for one in letters)
    if not refused:
        return ""
    words = ngettext(
        "%(count)d letter did not go out; it is tried again and again. Wait for none: call.",
        "%(count)d letters did not go out; they are tried again and again. Wait for none: call.",
        refused,
    )
    return words % {"count": refused}
