"""Letters about a night: that its brief is there or says something else, and whether people go."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.models import Brief, BriefPicture, Enrolment, Letter, Trip, TripNight
from trips.models.enrolment import COMING
from trips.services import links
from trips.services.briefs.as_mail import as_html
from trips.services.briefs.as_text import as_text
from trips.services.briefs.reading import Reading, read
from trips.services.briefs.texts import way_text
from trips.services.letter_kinds.post import NEWS, Kind
from trips.services.letter_kinds.to_person import enrolment_of, written_to
from trips.services.letter_kinds.written import Enclosed, Written, address, named
from trips.services.night_times import spot_decided
from trips.services.silence import silence

Decision = TripNight.Decision
PNG = "image/png"


def brief(letter: Letter) -> Written | None:
    """Send the newest version; where that is mailed by a letter of its own, this one says nothing
    any more."""
    enrolment, night = _coming(letter), letter.night
    if enrolment is None or night is None:
        return None
    versions = _versions_from(letter)
    reading = read(enrolment, night.date)
    if reading is None or not versions or any(one.is_mailed for one in versions[1:]):
        return None
    pictures = list(BriefPicture.objects.filter(brief=versions[-1]))
    changes = [sentence for one in versions for sentence in one.changes]
    link = brief_link(enrolment, night)
    return written_to(
        enrolment,
        _brief_subject(reading, night),
        _state(night),
        _changes(changes),
        _("Open it on your phone while there is signal; then it opens without:"),
        link,
        as_text(reading.facts),
        html=as_html(reading, pictures, changes=changes, link=link),
        pictures=tuple(Enclosed(one.name, bytes(one.png), PNG) for one in pictures),
    )


def go_no_go(letter: Letter) -> Written | None:
    """Tell the decision, as long as it is the one that was to be told; of several letters that
    tell the same one only the last."""
    enrolment, night = _coming(letter), letter.night
    if enrolment is None or night is None or not letter.key.startswith(decision_key(night)):
        return None
    same = Letter.objects.filter(enrolment=enrolment, key__startswith=decision_key(night))
    if same.filter(pk__gt=letter.pk).exists():
        return None
    return written_to(
        enrolment,
        _decision_subject(night),
        silence(night, caller=caller_of(letter.trip)),
        *_where(night),
        _("Your page, with the brief:"),
        brief_link(enrolment, night),
    )


def decision_key(night: TripNight) -> str:
    """Give what begins the key of every letter that tells the night's present decision."""
    return f"go_no_go:{night.pk}:{night.decision or 'open'}:"


def caller_of(trip: Trip) -> str:
    first = trip.instructors.select_related("user").first()
    return named(first) if first else _("who leads")


def brief_link(enrolment: Enrolment, night: TripNight) -> str:
    return address("brief_read", links.token_of(enrolment), night.date)


def day_of(night: TripNight) -> str:
    return date_format(night.date, "l, j F")


def _ends(letter: Letter) -> datetime | None:
    return letter.night.ends_at if letter.night else None


def _meeting(letter: Letter) -> datetime | None:
    return letter.night.meeting_at if letter.night else None


BRIEFS: dict[str, Kind] = {
    "brief": Kind(brief, until=_ends),
    "go_no_go": Kind(go_no_go, NEWS, until=_meeting),
}


def _coming(letter: Letter) -> Enrolment | None:
    """Give who still comes to a trip that takes place."""
    if letter.trip.status == Trip.Status.CANCELLED:
        return None
    return enrolment_of(letter, *COMING)


def _versions_from(letter: Letter) -> list[Brief]:
    """Give the version that a letter was asked for with, and those after it."""
    of_night = Brief.objects.filter(night=letter.night_id).order_by("number")
    told = of_night.filter(pk=int(letter.key.split(":")[1])).first()
    return list(of_night.filter(number__gte=told.number)) if told else []


def _brief_subject(reading: Reading, night: TripNight) -> str:
    day = {"day": day_of(night), "number": reading.number, "trip": "%(trip)s"}
    if reading.number == 1:
        return _("Your brief for %(day)s: %(trip)s") % day
    return _("Your brief for %(day)s, version %(number)d: %(trip)s") % day


def _state(night: TripNight) -> str:
    """Say first whether people go: what is written below was published before."""
    return silence(night, caller=caller_of(night.trip))


def _changes(sentences: Sequence[str]) -> str:
    if not sentences:
        return ""
    return "\n".join([_("What is other than before:"), *(f"- {one}" for one in sentences)])


def _decision_subject(night: TripNight) -> str:
    words = {
        Decision.GO: _("We go on %(day)s: %(trip)s"),
        Decision.SECOND: _("We go to the second spot on %(day)s: %(trip)s"),
        Decision.NO_GO: _("Do not set out on %(day)s, we do not go: %(trip)s"),
        Decision.OPEN: _("It is open again whether we go on %(day)s: %(trip)s"),
    }
    return words[Decision(night.decision)] % {"day": day_of(night), "trip": "%(trip)s"}


def _where(night: TripNight) -> list[str]:
    """Say where the second spot is, and how to come there."""
    if night.decision != Decision.SECOND:
        return []
    spot = spot_decided(night)
    where = _("The second spot: %(spot)s, %(site)s.")
    names = {"spot": named(spot.name), "site": named(spot.site.name)}
    return [" ".join([where % names, *way_text(night, spot)])]
