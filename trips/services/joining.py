"""How people come to have a place on a trip, and how it becomes free again.

ASKED → confirmed by the mailed link → HELD, or WAITING where all places are taken → what a leader
must know is said → PLACED. Each deed may come twice: the second time it changes nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from unicodedata import normalize

from django.db import transaction
from django.utils.translation import gettext as _

from trips.models import Enrolment, Person, Trip, User
from trips.models.enrolment import OVER
from trips.services import calendars, letters, link_ends, links, moving_up, places
from trips.services.briefs.anew import forget_plans
from trips.services.gear import carry_over
from trips.services.refusals import RefusedError
from trips.services.trip_history import note

State = Enrolment.State

# Who does not confirm is forgotten, and nobody can make the service write to one address for ever.
CONFIRM_WITHIN = timedelta(hours=48)
MOST_UNCONFIRMED_OF_A_MAIL = 6
LETTER_AGAIN_AFTER = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class Rest:
    """What a leader must know of a person with a place. Health only with consent."""

    name: str
    phone: str
    emergency_name: str
    emergency_phone: str
    experience: str
    units: str
    wish: str = ""
    health_note: str = ""
    health_consent: bool = False


@transaction.atomic
def ask(trip: Trip, *, name: str, mail: str, now: datetime) -> Enrolment | None:
    """Ask for a place; a mail says the rest, to whoever reads that mail only.

    Whoever asks learns nothing here: asked again, the same person gets a mail that says how it
    stands. None where nothing is to be sent.
    """
    trip = places.lock(trip)
    if not places.is_joinable(trip, now=now):
        raise RefusedError(_("Nobody can join this trip any more."))
    name, mail = " ".join(name.split()), mail.strip().lower()
    enrolment = _standing(trip, name, mail) or _asked_anew(trip, name, mail, now=now)
    if enrolment is None:
        return None
    if enrolment.state == State.ASKED:
        enrolment.asked_at, enrolment.link_expires_at = now, now + CONFIRM_WITHIN
        enrolment.save(update_fields=["asked_at", "link_expires_at"])
    mail_link(enrolment, now=now)
    return enrolment


def mail_link(enrolment: Enrolment, *, now: datetime) -> None:
    """Mail the private link with how it stands; pressed again and again, once in a while."""
    lately = int(now.timestamp() // LETTER_AGAIN_AFTER.total_seconds())
    key = f"link:{enrolment.uid}:{enrolment.link_generation}:{lately}"
    letters.queue("link", key=key, trip=enrolment.trip, enrolment=enrolment, due_at=now)


@transaction.atomic
def confirm(enrolment: Enrolment, *, now: datetime) -> Enrolment:
    """Hold a place, or give the next number of the waiting list, to who has the mailed link."""
    trip, enrolment = _locked(enrolment)
    if enrolment.state != State.ASKED:
        return enrolment
    if not places.is_joinable(trip, now=now):
        raise RefusedError(_("Nobody can join this trip any more."))
    enrolment.confirmed_at, enrolment.link_expires_at = now, link_ends.end_of(trip)
    enrolment.save(update_fields=["confirmed_at", "link_expires_at"])
    is_first = not trip.enrolments.filter(state=State.WAITING).exists()
    place = places.free_place(trip) if is_first else None
    if place is None:
        moving_up.wait(trip, enrolment, now=now)
    else:
        moving_up.hold(trip, enrolment, place, now=now)
    moving_up.settle(trip, now=now)
    carry_over(enrolment)
    enrolment.refresh_from_db()
    return enrolment


@transaction.atomic
def say_the_rest(enrolment: Enrolment, rest: Rest, *, now: datetime) -> Enrolment:
    """Keep what a leader must know; a held place becomes the person's own."""
    trip, enrolment = _locked(enrolment)
    if enrolment.state not in (State.HELD, State.PLACED):
        raise RefusedError(_("No place is held for you, so there is nothing to fill in."))
    if rest.health_note and not rest.health_consent:
        raise RefusedError(
            _("Health is kept only with your consent: tick the box, or leave the note empty.")
        )
    _refuse_other_persons_name(enrolment.person, rest.name)
    _keep(enrolment, rest, now=now)
    forget_plans(enrolment)
    if enrolment.state == State.HELD:
        enrolment.state, enrolment.placed_at, enrolment.held_until = State.PLACED, now, None
        enrolment.save(update_fields=["state", "placed_at", "held_until"])
        note(trip, "placed", at=now, enrolment=enrolment)
        key = f"placed:{enrolment.uid}"
        letters.queue("placed", key=key, trip=trip, enrolment=enrolment, due_at=now)
    return enrolment


@transaction.atomic
def give_back(enrolment: Enrolment, *, now: datetime) -> Enrolment:
    """Let somebody else have the place, or leave the waiting list."""
    trip, enrolment = _locked(enrolment)
    if enrolment.state in OVER or enrolment.state == State.ASKED:
        return enrolment
    if enrolment.state == State.NO_SHOW:
        raise RefusedError(_("The trip is over for this place."))
    if enrolment.state != State.WAITING and not places.may_give_back(trip, now=now):
        raise RefusedError(
            _(
                "The last day to give a place back is over: answer one of the organiser's mails, "
                "or call who leads the trip."
            )
        )
    _end(trip, enrolment, State.GIVEN_BACK, now=now)
    return enrolment


@transaction.atomic
def remove(enrolment: Enrolment, *, by: User, now: datetime) -> Enrolment:
    """Take a person off the trip, and tell them by mail."""
    trip, enrolment = _locked(enrolment)
    if enrolment.state in OVER:
        return enrolment
    was_confirmed = enrolment.state != State.ASKED
    _end(trip, enrolment, State.REMOVED, now=now, by=by)
    if was_confirmed:
        key = f"removed:{enrolment.uid}"
        letters.queue("removed", key=key, trip=trip, enrolment=enrolment, due_at=now)
    return enrolment


@transaction.atomic
def mark_no_show(enrolment: Enrolment, *, by: User, now: datetime) -> Enrolment:
    """Say that a person did not come. The place stays taken."""
    trip, enrolment = _locked(enrolment)
    if enrolment.state not in (State.HELD, State.PLACED):
        return enrolment
    begin = places.begins_at(trip)
    if begin is None or now < begin:
        raise RefusedError(_("Nobody is missing before people meet for the first time."))
    _become(enrolment, State.NO_SHOW, by=by, now=now)
    return enrolment


@transaction.atomic
def mark_came(enrolment: Enrolment, *, by: User, now: datetime) -> Enrolment:
    """Take back that a person did not come."""
    _trip, enrolment = _locked(enrolment)
    if enrolment.state == State.NO_SHOW:
        _become(enrolment, State.PLACED, by=by, now=now)
    return enrolment


@transaction.atomic
def move_up(enrolment: Enrolment, *, before: int, by: User, now: datetime) -> Enrolment:
    """Let a waiting person and the one before change numbers, where it still is number `before`."""
    trip, enrolment = _locked(enrolment)
    if places.number_in_queue(enrolment) != before or before < 2:
        return enrolment
    earlier = trip.enrolments.filter(
        state=State.WAITING, queue_number__lt=enrolment.queue_number
    ).order_by("-queue_number")[0]
    earlier.queue_number, enrolment.queue_number = enrolment.queue_number, earlier.queue_number
    earlier.save(update_fields=["queue_number"])
    enrolment.save(update_fields=["queue_number"])
    note(trip, "moved_up", at=now, by=by, enrolment=enrolment)
    return enrolment


@transaction.atomic
def renew_link(enrolment: Enrolment, *, now: datetime, by: User | None = None) -> Enrolment:
    """Make the present link useless and mail another one; pressed twice, one other."""
    trip, enrolment = _locked(enrolment)
    if note(trip, "link_renewed", at=now, by=by, enrolment=enrolment):
        links.revoke(enrolment)
        calendars.revoke(trip, enrolment, now=now, by=by)  # the link stands in it
        mail_link(enrolment, now=now)
    return enrolment


def sweep_places(*, now: datetime) -> int:
    """Let holds lapse whose hour is over, and waiting lists move up; give how many lapsed.

    Once people have met nothing lapses: who came without a word is out there all the same.
    """
    over = Enrolment.objects.filter(state=State.HELD, held_until__lte=now)
    lapsed = sum(_lapse(enrolment, now=now) for enrolment in over.order_by("held_until"))
    waiting = Enrolment.objects.filter(state=State.WAITING, trip__status__in=places.JOINABLE)
    for trip in Trip.objects.filter(pk__in=waiting.values("trip")):
        settle(trip, now=now)
    return lapsed


@transaction.atomic
def settle(trip: Trip, *, now: datetime) -> None:
    """Let places, waiting list and status follow from a trip that was edited."""
    moving_up.settle(places.lock(trip), now=now)


@transaction.atomic
def _lapse(enrolment: Enrolment, *, now: datetime) -> bool:
    trip, enrolment = _locked(enrolment)
    is_over = enrolment.held_until is not None and enrolment.held_until <= now
    if enrolment.state != State.HELD or not is_over or not places.is_joinable(trip, now=now):
        return False
    _end(trip, enrolment, State.LAPSED, now=now)
    key = f"lapsed:{enrolment.uid}"
    letters.queue("lapsed", key=key, trip=trip, enrolment=enrolment, due_at=now)
    return True


def _standing(trip: Trip, name: str, mail: str) -> Enrolment | None:
    """Give the enrolment of that person that is not over."""
    of_mail = trip.enrolments.select_related("person").filter(person__mail=mail)
    standing = of_mail.exclude(state__in=OVER)
    return next((each for each in standing if _is_name(each.person, name)), None)


def _asked_anew(trip: Trip, name: str, mail: str, *, now: datetime) -> Enrolment | None:
    unconfirmed = Enrolment.objects.filter(
        trip__organisation=trip.organisation_id, person__mail=mail, state=State.ASKED
    )
    if unconfirmed.count() >= MOST_UNCONFIRMED_OF_A_MAIL:
        return None
    known = Person.objects.filter(organisation=trip.organisation_id, mail=mail)
    person = next((each for each in known if _is_name(each, name)), None)
    if person is None:
        person = Person.objects.create(organisation_id=trip.organisation_id, mail=mail, name=name)
    enrolment = Enrolment(trip=trip, person=person, asked_at=now)
    links.sign(enrolment)
    enrolment.save()
    return enrolment


def _is_name(person: Person, name: str) -> bool:
    """Compare names as people do, in any script: databases know capitals in few of them."""
    return _folded(person.name) == _folded(name)


def _folded(name: str) -> str:
    return normalize("NFKC", name).casefold()


def _locked(enrolment: Enrolment) -> tuple[Trip, Enrolment]:
    """Give trip and enrolment as they are now, held until the transaction ends."""
    trip = places.lock(enrolment.trip)
    fresh: Enrolment = Enrolment.objects.select_related("person").get(pk=enrolment.pk)
    fresh.trip = trip
    return trip, fresh


def _refuse_other_persons_name(person: Person, name: str) -> None:
    others = Person.objects.filter(organisation=person.organisation_id, mail=person.mail)
    if any(_is_name(other, name) for other in others.exclude(pk=person.pk)):
        words = _("“%(name)s” is another person with the same mail address; write your own name.")
        raise RefusedError(words % {"name": name})


def _keep(enrolment: Enrolment, rest: Rest, *, now: datetime) -> None:
    person = enrolment.person
    person.name, person.phone = " ".join(rest.name.split()), rest.phone
    person.emergency_name = rest.emergency_name
    person.emergency_phone = rest.emergency_phone
    person.experience, person.units = rest.experience, rest.units
    person.save()
    enrolment.wish, enrolment.health_note = rest.wish, rest.health_note
    agreed = enrolment.health_consent_at or now
    enrolment.health_consent_at = agreed if rest.health_note else None
    enrolment.save(update_fields=["wish", "health_note", "health_consent_at"])


def _become(enrolment: Enrolment, state: str, *, by: User, now: datetime) -> None:
    enrolment.state, enrolment.held_until = state, None
    enrolment.save(update_fields=["state", "held_until"])
    note(enrolment.trip, state, at=now, by=by, enrolment=enrolment)


def _end(
    trip: Trip, enrolment: Enrolment, state: str, *, now: datetime, by: User | None = None
) -> None:
    """End an enrolment. What was said of health served the trip alone, and goes at once."""
    enrolment.state, enrolment.place, enrolment.ended_at = state, None, now
    enrolment.held_until = enrolment.health_consent_at = None
    enrolment.health_note = ""
    enrolment.save()
    note(trip, state, at=now, by=by, enrolment=enrolment)
    moving_up.settle(trip, now=now)
